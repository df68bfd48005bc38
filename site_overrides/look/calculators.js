/* The page of bench calculators: a form for each calculation, worked while one types. Without this script the page shows
   formulas, symbols and sources. Inputs may come from the address: calculators.html?thread=M8&grade=8.8#bolt-torque. */
(() => {
  'use strict';

  const bench = window.shearpinBench;
  const tables = window.shearpinCalculatorTables;
  if (!bench || !tables) return;
  bench.useTables(tables);
  document.querySelectorAll('[data-without-scripts]').forEach((words) => words.remove());
  const { refusal, shown, withUnit } = bench;
  const PATIENCE = 700; // milliseconds without a key before a half-typed text is called wrong
  const LONGEST = 200;

  /* ---- reading inputs, as the book's own commands read them -------------------------------------------------------------- */

  const calculations = new Map(bench.data().calculations.map(([name, inputs, outputs]) => [name, {
    name,
    inputs: inputs.map(([key, title, kind, unit = '', fallback = null, choices = [], note = '', spread = false]) => ({
      key, title, kind, unit, fallback, note, spread,
      choices: (typeof choices === 'string' ? bench.data().choices[choices] : choices).map(([id, words]) => ({ id, words })),
    })),
    outputs: outputs.map(([key, title, kind, unit]) => ({ key, title, kind, unit })),
  }]));

  const example = (input) => {
    if (input.kind === 'choice') return `choose one of ${input.choices.map((choice) => choice.id).join(', ')}`;
    if (input.kind === 'thread') return 'write it like M6, M8×1, 1/4-20 or No. 10-32';
    const number = input.fallback || '24';
    return `write it like \`${input.fallback || !input.unit ? number : `${number} ${input.unit}`}\``;
  };

  const readChoice = (input, text) => {
    const wanted = text.toLowerCase().split(/\s+/).join(' ');
    const found = input.choices.find((choice) => [choice.id.toLowerCase(), choice.words.toLowerCase()].includes(wanted));
    const ends = input.choices.filter((choice) => choice.id.toLowerCase().split(' ').pop() === wanted);
    if (found || ends.length === 1) return (found || ends[0]).id;
    throw refusal(`\`${text}\` is not a ${input.title} known here`, example(input), input.key);
  };

  const PLAIN_NUMBER = /^(?:[-+−]?[0-9][0-9 ,.]*|[-+−]?\.[0-9]+)$/;
  const PLAIN_FRACTION = /^[-+−]?(?:[0-9]+[ -])?[0-9]*[½¼¾⅛⅜⅝⅞/][0-9]*$/;

  const readNumber = (input, text) => {
    const kind = input.kind === 'number' ? 'ratio' : input.kind;
    const unit = input.kind === 'number' ? '' : input.unit;
    if (PLAIN_FRACTION.test(text) && unit !== 'in' && unit !== '') {
      throw refusal(`\`${text}\` lacks its unit`, `write \`${text} in\` for inches`, input.key);
    }
    let written = text;
    if (input.kind === 'number' && input.unit && text.endsWith(input.unit)) written = text.slice(0, -input.unit.length).trim();
    if (unit && PLAIN_NUMBER.test(text)) written = unit === ':1' ? text + unit : `${text} ${unit}`;
    let quantity;
    try {
      quantity = bench.parseQuantity(written, kind);
    } catch (error) {
      if (!error.refusal) throw error;
      throw refusal(error.refusal.message, error.refusal.hint || example(input), input.key);
    }
    const target = bench.unitNamed(kind, unit);
    const inUnit = (value) => bench.exact.number(bench.converted(value, quantity.unit, target));
    const { low, high, nominal } = quantity;
    const differ = low && high && bench.exact.less(low, high);
    if (!low || !high || (differ && (!nominal || !input.spread))) {
      throw refusal(`one value is needed for the ${input.title}, not a range`, example(input), input.key);
    }
    return { number: inUnit(nominal || low), spread: differ ? (inUnit(high) - inUnit(low)) / 2 : null };
  };

  const readInput = (input, text) => {
    if (text.length > LONGEST) throw refusal(`the ${input.title} is too long to be read`, example(input), input.key);
    if (input.kind === 'choice') return { name: readChoice(input, text) };
    return input.kind === 'thread' ? { name: text } : readNumber(input, text);
  };

  /* The same refusal, pinned to the input whose name the argument bears. */
  const explained = (calculation, error) => {
    const key = bench.wordsAndUnit(error.argument)[0].replace(/ /g, '-');
    const input = calculation.inputs.find((each) => each.key === key);
    return input ? refusal(error.message, input.note || example(input), key) : refusal(error.message, 'check every input');
  };

  const compute = (name, texts) => {
    const calculation = calculations.get(name);
    if (!calculation) throw refusal(`there is no calculation \`${name}\``, `there are ${Array.from(calculations.keys()).join(', ')}`);
    const keys = calculation.inputs.map((input) => input.key);
    const stray = Object.keys(texts).find((key) => !keys.includes(key));
    if (stray !== undefined) {
      throw refusal(`\`${name}\` has no input \`${stray}\``, `its inputs are ${keys.sort().join(', ')}`, stray);
    }
    const readings = new Map();
    calculation.inputs.forEach((input) => {
      const text = (texts[input.key] || '').trim() || input.fallback;
      if (text === null) throw refusal(`the ${input.title} is missing`, example(input), input.key);
      if (text) readings.set(input.key, readInput(input, text));
    });
    const read = {
      has: (key) => readings.has(key),
      number: (key) => readings.get(key).number,
      count: (key) => Math.trunc(readings.get(key).number),
      name: (key) => readings.get(key).name,
      spread: (key) => readings.get(key).spread,
    };
    let answer;
    try {
      answer = bench.formulas[name](read, calculation.outputs);
    } catch (error) {
      if (error.argument === undefined) throw error;
      throw explained(calculation, error);
    }
    calculation.outputs.forEach((output, index) => {
      const value = answer.values[index];
      if (typeof value === 'number' && !Number.isFinite(value)) {
        throw refusal(`the ${output.title} comes out beyond any number`, 'check every input');
      }
    });
    const values = calculation.outputs.map((output, index) => Object.assign({}, output, { value: answer.values[index] }));
    return { calculation: name, values, worked: answer.worked, notes: answer.notes };
  };

  bench.compute = compute;
  bench.names = () => Array.from(calculations.keys());

  /* ---- forms ------------------------------------------------------------------------------------------------------------------ */

  const make = (element, attributes = {}, ...children) => {
    const made = document.createElement(element);
    Object.entries(attributes).forEach(([name, value]) => {
      if (value !== null) made.setAttribute(name, value);
    });
    made.append(...children);
    return made;
  };

  /* `…` in messages is what to type; on the page it is set as such. */
  const worded = (text) => text.split('`').map((part, index) => (index % 2 ? make('code', {}, part) : part));

  const fieldOf = (calculation, input) => {
    const id = `in-${calculation.name}-${input.key}`;
    const optional = input.fallback === '' ? ', may be left out' : '';
    const label = make('label', { for: id }, input.title);
    const unit = input.unit && input.kind !== 'choice' ? ` in ${input.unit === ':1' ? 'parts to one' : input.unit}` : '';
    if (unit || optional) label.append(make('span', { class: 'calc-unit' }, `${unit}${optional}`));
    let control;
    if (input.kind === 'choice') {
      control = make('select', { id, name: input.key, autocomplete: 'off' });
      if (!input.fallback) control.append(make('option', { value: '' }, input.fallback === null ? 'choose' : 'not known'));
      input.choices.forEach((choice) => control.append(make('option', { value: choice.id }, choice.words)));
      if (input.fallback) control.value = input.fallback;
    } else {
      control = make('input', {
        id, name: input.key, type: 'text', autocomplete: 'off', spellcheck: 'false', autocapitalize: 'off',
        placeholder: input.fallback || null, maxlength: String(LONGEST), 'aria-required': input.fallback === null ? 'true' : null,
      });
    }
    const problem = make('p', { class: 'calc-problem', id: `${id}-problem`, hidden: '' });
    const note = input.note ? make('p', { class: 'calc-note', id: `${id}-note` }, input.note) : null;
    control.setAttribute('aria-describedby', [note ? note.id : '', problem.id].filter(Boolean).join(' '));
    return { input, control, problem, element: make('div', { class: 'calc-field' }, label, control, problem, ...(note ? [note] : [])) };
  };

  const inOtherUnits = (output) => {
    const also = (bench.data().alsoIn[output.kind] || {})[output.unit];
    if (!also || typeof output.value !== 'number') return '';
    const [unit, below, small] = also;
    const symbol = below && Math.abs(output.value) < below ? small : unit;
    const [own, other] = [output.unit, symbol].map((each) => bench.unitNamed(output.kind, each));
    return ` (${withUnit(bench.exact.number(bench.converted([output.value, 0], own, other)), symbol, 3)})`;
  };

  const outputText = (output) => {
    if (typeof output.value === 'string') return output.value;
    return output.unit === ':1' ? `${shown(output.value)}:1` : withUnit(output.value, output.unit);
  };

  const showResult = (place, result) => {
    const rows = result.values.map((output) => make('div', {},
      make('dt', {}, output.title),
      make('dd', { 'data-output': output.key }, make('b', {}, outputText(output)), inOtherUnits(output))));
    const notes = result.notes.map((note) => make('li', {}, note));
    place.replaceChildren(
      make('dl', {}, ...rows),
      make('p', { class: 'worked', 'data-worked': result.calculation }, result.worked),
      ...(notes.length ? [make('ul', { class: 'calc-notes' }, ...notes)] : []));
  };

  const sentence = (text) => (text ? `${text[0].toUpperCase()}${text.slice(1)}. ` : '');

  const tell = (field, problem) => {
    field.problem.hidden = !problem;
    // The note beside the field says it already where the advice is the same.
    const hint = problem && problem.hint !== field.input.note ? problem.hint : '';
    field.problem.replaceChildren(...(problem ? worded(`${sentence(problem.message)}${sentence(hint)}`.trim()) : []));
    if (problem) field.control.setAttribute('aria-invalid', 'true');
    else field.control.removeAttribute('aria-invalid');
  };

  const buildForm = (place, calculation) => {
    const fields = calculation.inputs.map((input) => fieldOf(calculation, input));
    const result = make('div', { class: 'calc-result', role: 'status', 'aria-live': 'polite', 'aria-atomic': 'true' });
    const clear = make('button', { type: 'reset' }, 'Clear');
    const form = make('form', { class: 'calc-form', novalidate: '' }, ...fields.map((field) => field.element), make('p', { class: 'calc-clear' }, clear));
    let waiting = 0;

    const say = (text) => result.replaceChildren(make('p', {}, ...worded(text)));

    const problemsNow = () => {
      const problems = new Map();
      fields.forEach((field) => {
        const text = field.control.value.trim();
        if (!text) return;
        try {
          readInput(field.input, text);
        } catch (error) {
          if (!error.refusal) throw error;
          problems.set(field, error.refusal);
        }
      });
      return problems;
    };

    const missing = () => fields.filter((field) => field.input.fallback === null && !field.control.value.trim());

    const work = (patient) => {
      window.clearTimeout(waiting);
      const problems = problemsNow();
      const lacking = missing();
      let done = null;
      let general = null;
      if (!problems.size && !lacking.length) {
        try {
          done = compute(calculation.name, Object.assign({}, ...fields.map((field) => ({ [field.input.key]: field.control.value }))));
        } catch (error) {
          if (!error.refusal) throw error;
          const field = fields.find((each) => each.input.key === error.refusal.key);
          if (field) problems.set(field, error.refusal);
          else general = error.refusal;
        }
      }
      fields.filter((field) => !problems.has(field)).forEach((field) => tell(field, null));
      if (done) showResult(result, done);
      else if (general) say(`${general.message}; ${general.hint}`);
      else if (problems.size && patient) result.replaceChildren();
      else if (problems.size) say('No result: see the field marked above.');
      else say(`Still needed: ${lacking.map((field) => field.input.title).join(', ')}.`);
      if (problems.size && patient) waiting = window.setTimeout(() => work(false), PATIENCE);
      else problems.forEach((problem, field) => tell(field, problem));
    };

    form.addEventListener('input', () => work(true));
    form.addEventListener('change', () => work(false));
    form.addEventListener('submit', (event) => {
      event.preventDefault();
      work(false);
    });
    form.addEventListener('reset', () => window.setTimeout(() => work(false), 0));
    place.replaceChildren(form, result);
    work(true);
    return { fields, work };
  };

  const forms = new Map();
  const formOf = (section) => {
    const name = section.getAttribute('data-calculation');
    if (!forms.has(name)) forms.set(name, buildForm(section.querySelector('[data-calculator-form]'), calculations.get(name)));
    return forms.get(name);
  };

  document.querySelectorAll('details[data-calculation]').forEach((section) => {
    // `toggle` comes a moment after the opening, too late for a quick Tab: the form is there before the summary opens.
    section.querySelector('summary').addEventListener('click', () => formOf(section));
    section.addEventListener('toggle', () => {
      if (section.open) formOf(section);
    });
    if (section.open) formOf(section);
  });

  /* ---- what the address asks for ------------------------------------------------------------------------------------------------ */

  const open = () => {
    const bare = location.hash.replace(/^#/, '');
    const name = bare.includes('=') ? new URLSearchParams(bare).get('at') : bare;
    const section = name && calculations.has(name) ? document.getElementById(name) : null;
    if (!section) return;
    section.open = true;
    const { fields, work } = formOf(section);
    const asked = new URLSearchParams(location.search);
    fields.filter((field) => asked.has(field.input.key)).forEach((field) => {
      field.control.value = asked.get(field.input.key);
      if (field.input.kind === 'choice' && !field.control.value) {
        try {
          field.control.value = readChoice(field.input, asked.get(field.input.key));
        } catch (error) {
          if (!error.refusal) throw error;
        }
      }
    });
    work(false);
    section.scrollIntoView();
  };

  window.addEventListener('hashchange', open);
  open();
})();
