/* The page of a job: several procedures on one machine as one list. The rule is that of `shearpin job`
   (tools/shearpin/diagnosis/job.py), word for word; the tests compare the two. */
(() => {
  'use strict';

  const data = window.shearpinJobData;
  const sheet = document.querySelector('[data-job-sheet]');
  if (!data) return;
  const root = document.documentElement.getAttribute('data-root') || '';
  const has = (table, id) => Object.prototype.hasOwnProperty.call(table, id);

  /* ---- the rule ------------------------------------------------------------------------------------------------------- */

  const GRAVITY = ['DANGER', 'WARNING', 'CAUTION', 'NOTICE'];
  // What many records hold alike stands once, and has a number in their place.
  const told = (record, field) => (record[field] ? data.alike[field][record[field] - 1] : null);
  const fits = (record, machine) => (told(record, 'fits') || [machine]).includes(machine);

  const workOf = (asked, machine) => {
    const serves = new Map();
    let alone = 0;
    asked.forEach((procedure) => {
      const before = (data.procedures[procedure].before || []).filter((id) => fits(data.procedures[id], machine));
      before.concat(procedure).forEach((id) => {
        if (!serves.has(id)) serves.set(id, []);
        if (id !== procedure) serves.get(id).push(procedure);
        alone += data.procedures[id].seconds;
      });
    });
    const order = Array.from(serves.keys());
    const work = order.map((procedure, place) => {
      const record = data.procedures[procedure];
      const later = order.slice(place + 1);
      const isUndone = (id) =>
        !later.includes(id) && data.procedures[id].isolates && serves.get(id).some((needing) => later.includes(needing));
      return {
        procedure,
        minutes: record.seconds / 60,
        asked: asked.includes(procedure),
        serves: serves.get(procedure),
        again: record.live ? order.filter(isUndone) : [],
      };
    });
    const seconds = order.reduce((sum, id) => sum + data.procedures[id].seconds, 0);
    return { work, seconds, saved: alone - seconds };
  };

  const cautionsOf = (work, machine) => {
    const found = new Set();
    work.forEach(({ procedure }) => {
      (told(data.procedures[procedure], 'cautions') || []).forEach((id) => {
        if (fits(data.cautions[id], machine)) found.add(id);
      });
    });
    const gravity = (id) => GRAVITY.indexOf(data.cautions[id].word);
    return Array.from(found).map((id, place) => [id, place])
      .sort((a, b) => gravity(a[0]) - gravity(b[0]) || a[1] - b[1]).map(([id]) => id);
  };

  const partsOf = (work, machine, plate) => {
    const found = new Map();
    work.forEach(({ procedure }) => {
      (data.procedures[procedure].parts || []).forEach(([id, quantity, when]) => {
        const part = has(data.parts, id) ? data.parts[id] : null;
        if ((part ? part.plate : 'machine') !== plate || (part && !fits(part, machine))) return;
        if (!found.has(id)) found.set(id, Object.assign({ part: id, quantity: 0, perhaps: [] }, ordering(part, machine), { uses: [] }));
        const entry = found.get(id);
        if (!entry.uses.includes(procedure)) entry.uses.push(procedure);
        if (when) entry.perhaps.push({ when, quantity });
        else entry.quantity += quantity;
      });
    });
    return Array.from(found.values());
  };

  const ordering = (part, machine) => {
    if (!part) return { number: null, ask_for: null };
    const holder = part.plate === 'machine' ? machine : data.machines[machine][1];
    const known = part.numbers && has(part.numbers, holder) && !part.ask;
    return { number: known ? part.numbers[holder] : null, ask_for: part.ask || null };
  };

  const readRate = (text) => {
    const match = /^([0-9]{1,6})(?:[.,]([0-9]{1,2}))?$/.exec(text.trim());
    return match ? Number(match[1]) * 100 + Number((match[2] || '0').padEnd(2, '0')) : null;
  };
  const labour = (seconds, rate) => Math.floor((2 * rate * seconds + 3600) / 7200);
  const money = (hundredths) => `${Math.floor(hundredths / 100)}.${String(hundredths % 100).padStart(2, '0')}`;

  const compute = (procedures, machine, rate) => {
    const wanted = Array.from(new Set(procedures));
    const against = (id) => (told(data.procedures[id], 'against') || {})[machine];
    const { work, seconds, saved } = workOf(wanted.filter((id) => !against(id)), machine);
    const tools = new Set();
    work.forEach(({ procedure }) => (told(data.procedures[procedure], 'tools') || []).forEach((tool) => tools.add(tool)));
    return {
      machine,
      work,
      refused: wanted.filter(against).map((procedure) => ({ procedure, reason: against(procedure) })),
      cautions: cautionsOf(work, machine),
      tools: Array.from(tools),
      parts: { machine: partsOf(work, machine, 'machine'), engine: partsOf(work, machine, 'engine') },
      minutes: seconds / 60,
      minutes_saved: saved / 60,
      labour: rate === null ? null : { rate: money(rate), amount: money(labour(seconds, rate)) },
    };
  };

  /* ---- what is shown ---------------------------------------------------------------------------------------------------- */

  const make = (element, attributes, ...children) => {
    const made = document.createElement(element);
    Object.entries(attributes || {}).forEach(([name, value]) => made.setAttribute(name, value));
    made.append(...children.filter((child) => child !== ''));
    return made;
  };
  const section = (heading, id, ...children) => make('section', { id }, make('h2', {}, heading), ...children);
  const list = (items) => make('ul', {}, ...items.map((item) => make('li', {}, ...[].concat(item))));
  const link = (kind, id, record) =>
    (record ? make('a', { 'data-ref': `${kind}:${id}`, href: root + record.url }, record.title) : id);
  const minutes = (number) => `${Math.round(number)} min`;
  const SVG = 'http://www.w3.org/2000/svg';

  // The safety alert symbol of ANSI Z535, as on every page; a NOTICE bears none.
  const alertSymbol = () => {
    const symbol = document.createElementNS(SVG, 'svg');
    symbol.setAttribute('aria-hidden', 'true');
    const use = document.createElementNS(SVG, 'use');
    use.setAttribute('href', '#alert');
    symbol.append(use);
    return symbol;
  };

  const panel = (id, machine) => {
    const { word, said, lines } = data.cautions[id];  // `said`: the signal word in the language of a translated edition
    const [hazard, consequence, ...avoidance] = lines.map((line) => (typeof line === 'string' ? line : line[machine]));
    const signal = make('span', { class: 'signal-word' }, ...(word === 'NOTICE' ? [] : [alertSymbol()]), said || word);
    return make('div', { class: 'safety-message', 'data-signal-word': word, 'data-caution': id },
      make('p', { class: 'signal' }, signal),
      make('div', { class: 'message' },
        make('p', {}, make('b', { class: 'hazard' }, hazard), ' ', make('span', { class: 'consequence' }, consequence)),
        make('ul', { class: 'avoidance' }, ...avoidance.map((line) => make('li', {}, `${line} `)))));
  };

  const workLine = (item) => {
    const record = data.procedures[item.procedure];
    const shared = item.serves.length > 1 ? `, once for ${item.serves.length} procedures` : '';
    const line = make('li', { 'data-procedure': item.procedure, 'data-step': '' },
      make('p', { class: 'do' }, link('procedure', item.procedure, record)),
      make('p', {}, `${minutes(item.minutes)}${shared}`));
    if (item.again.length) {
      const names = item.again.map((id) => data.procedures[id].title).join(', ');
      line.append(make('p', { class: 'note' }, make('b', {}, 'Before you go on: '),
        `leave its function test to the end of the job, or do this once more after it: ${names}.`));
    }
    if (item.asked) {
      const out = make('button', { type: 'button', class: 'quiet' }, 'Take out');
      out.append(make('span', { class: 'unseen' }, `: ${record.title}`));
      out.addEventListener('click', () => change(asked().filter((id) => id !== item.procedure), `${record.title}: taken out.`));
      line.append(out);
    }
    return line;
  };

  const partLine = (part) => {
    const record = has(data.parts, part.part) ? data.parts[part.part] : null;
    const line = [part.quantity ? `${part.quantity} × ` : '', link('part', part.part, record), ' '];
    if (part.perhaps.length) {
      const words = part.perhaps.map(({ when, quantity }) => `${quantity} ${when}`).join('; ');
      line.push(make('span', { class: 'if-needed' }, `(${part.quantity ? 'and ' : ''}perhaps ${words}) `));
    }
    if (part.ask_for !== null) line.push(make('span', { class: 'ask-for' }, `Ask for: ${part.ask_for.replace(/\.$/, '')}.`));
    else if (part.number !== null) line.push(make('b', { class: 'number' }, part.number));
    else line.push(make('span', { 'data-missing': 'number' }, 'no number recorded; order by the plate'));
    return line.filter((piece) => piece !== '');
  };

  const partsSection = (job) => {
    const groups = [['machine', job.parts.machine], ['engine', job.parts.engine]].filter(([, parts]) => parts.length);
    return groups.map(([plate, parts]) => make('div', { class: 'by-plate', 'data-plate': plate },
      make('h3', {}, `Give the counter the number on the ${plate} plate`), list(parts.map(partLine))));
  };

  /* The rate is asked for, used, and kept nowhere: neither in the address nor in the browser. */
  const timeSection = (job) => {
    const saved = job.minutes_saved ? ` ${minutes(job.minutes_saved)} are saved by doing shared work once.` : '';
    const total = make('p', { class: 'job-total' }, make('b', {}, minutes(job.minutes)), ` of work.${saved}`);
    const field = make('input', { id: 'rate', inputmode: 'decimal', autocomplete: 'off', size: '8' });
    field.value = rateText;
    const answer = make('p', { class: 'job-estimate', role: 'status' });
    const estimate = () => {
      rateText = field.value;
      const rate = readRate(rateText);
      const amount = rate === null ? null : labour(Math.round(job.minutes * 60), rate);
      if (rateText.trim() === '') answer.textContent = '';
      else if (rate === null) answer.textContent = 'Write an amount such as 90 or 87.50.';
      else answer.replaceChildren('Labor ', make('b', {}, money(amount)), `, at ${money(rate)} an hour. Parts are not in it.`);
    };
    field.addEventListener('input', estimate);
    estimate();
    const form = make('p', { class: 'job-rate' }, make('label', { for: 'rate' }, 'What an hour costs in your shop (it is not kept)'), field);
    return section('Time', 'time', total, form, answer);
  };

  const signOff = (machine) => {
    const engine = data.machines[machine][1] ? ['Engine plate, code'] : [];
    const lines = ['Machine plate, serial number', ...engine, 'Done by', 'Date', 'Checked by'];
    return make('section', { class: 'sign-off', 'aria-hidden': 'true' }, make('h2', {}, 'Sign-off'),
      make('p', {}, ...lines.map((line) => make('span', {}, line))));
  };

  const refusedLines = (job) => job.refused.map(({ procedure, reason }) => {
    const record = data.procedures[procedure];
    return make('p', { class: 'misfit' }, `Left out: “${record.title}” is not for the ${data.machines[job.machine][0]}: ${reason}.`);
  });

  const whole = (job) => {
    const print = make('button', { type: 'button' }, 'Print the job');
    print.addEventListener('click', () => window.print());
    const clear = make('button', { type: 'button', class: 'quiet' }, 'Empty the job');
    clear.addEventListener('click', () => change([], 'The job is empty.'));
    const tools = job.tools.map((id) => {
      const [title, special] = has(data.tools, id) ? data.tools[id] : [id, 0];
      return special ? `${title} (special tool)` : title;
    });
    return [
      ...refusedLines(job),
      make('section', { class: 'safety', 'aria-label': 'Safety' }, ...job.cautions.map((id) => panel(id, job.machine))),
      make('p', { class: 'job-acts' }, print, ' ', clear),
      make('nav', { class: 'jumps', 'aria-label': 'On this page' },
        make('a', { href: '#work' }, 'Work, in this order'), make('a', { href: '#tools' }, 'Tools'),
        job.parts.machine.length + job.parts.engine.length ? make('a', { href: '#parts' }, 'Parts') : ''),
      section('Work, in this order', 'work', make('ol', { class: 'steps' }, ...job.work.map(workLine))),
      section('Tools', 'tools', list(tools)),
      ...(job.parts.machine.length + job.parts.engine.length ? [section('Parts', 'parts', ...partsSection(job))] : []),
      timeSection(job),
      signOff(job.machine),
    ];
  };

  /* ---- from the address to the sheet ---------------------------------------------------------------------------------------- */

  let rateText = '';
  const asked = () => window.shearpinJob.listed();
  const status = make('p', { role: 'status', class: 'job-status' });

  const show = () => {
    const known = asked().filter((id) => has(data.procedures, id));
    const unknown = asked().filter((id) => !has(data.procedures, id));
    const machine = window.shearpinMachine.get();
    const parts = unknown.map((id) => make('p', { class: 'misfit' }, `This book has no procedure “${id}”.`));
    if (known.length === 0) {
      const words = make('p', {}, 'The job is empty. Open a ', make('a', { href: `${root}procedures/index.html` }, 'procedure'), ' and put it in the job.');
      parts.push(words);
    } else if (!machine) {
      parts.push(make('p', { class: 'misfit' }, 'Choose the machine at the top of the page: parts, cautions and what fits depend on it.'),
        section('In the job', 'work', list(known.map((id) => [link('procedure', id, data.procedures[id])]))));
    } else parts.push(...whole(compute(known, machine, null)));
    sheet.replaceChildren(status, ...parts);
  };

  const change = (ids, words) => {
    window.shearpinJob.set(ids);
    show();
    status.textContent = words;
    const heading = document.querySelector('h1');
    heading.setAttribute('tabindex', '-1');
    heading.focus();
  };

  /* Return minutes and parts of one procedure with what is done before it, for other pages. */
  const brief = (procedure, machine) => {
    const job = compute([procedure], machine, null);
    return [make('p', {}, make('b', {}, minutes(job.minutes)), ' with what is done before it'), ...partsSection(job)];
  };

  window.shearpinJob = Object.assign(window.shearpinJob || {}, { compute, readRate, brief });
  if (!sheet) return;
  document.querySelectorAll('[data-without-scripts]').forEach((sentence) => sentence.remove());
  // The scripts that know machine and job come last on a page.
  document.addEventListener('DOMContentLoaded', () => {
    document.addEventListener('shearpin:machine', show);
    document.addEventListener('shearpin:job', show);
    show();
  });
})();
