/* The guide on a symptom's page: one test at a time, worked out anew after every answer. Machine and answers live in the
   address, so that a colleague who gets it goes on where this one left off. */
(() => {
  'use strict';

  const place = document.querySelector('[data-guide]');
  const data = window.shearpinDiagnosisData;
  const plan = window.shearpinPlan;
  const words = window.shearpinWords;
  if (!place || !data || !plan || !words) return;
  const root = document.documentElement.getAttribute('data-root') || '';
  const sheet = place.querySelector('[data-guide-sheet]');
  const { ELSE } = words;

  /* ---- what is asked and known ------------------------------------------------------------------------------------------------- */

  const prepared = new Map();
  let machine = '';
  let answers = [];

  const groupOf = (id) => data.groups.find((group) => group.machines.includes(id));
  const group = () => (data.groups.length === 1 ? data.groups[0] : groupOf(machine));
  const numbersOf = (chosen) => {
    if (!prepared.has(chosen)) prepared.set(chosen, plan.prepare(words.unpack(data, chosen)));
    return prepared.get(chosen);
  };
  // What the page was built with; '' where a group has no test to begin with.
  const firstOf = (chosen) => place.getAttribute('data-first').split(' ')[data.groups.indexOf(chosen)].replace(/^-$/, '');
  const seen = (list = answers) => list.filter(([, result]) => result);
  const skipped = (list) => list.filter(([, result]) => !result).map(([test]) => test);
  const textFor = (text) => words.textFor(text, machine || group().machines[0]);

  /* Answers that this book, or this machine, does not know are told and left out. */
  const known = (chosen, asked) => {
    const strange = [];
    const taken = new Set();
    const good = asked.filter(([test, result]) => {
      const fits = chosen.tests && chosen.tests[test] && !taken.has(test) && (!result || data.tests[test].results.includes(result));
      if (fits) taken.add(test);
      else strange.push(test);
      return fits;
    });
    return [good, strange];
  };

  /* ---- building blocks --------------------------------------------------------------------------------------------------------------- */

  const make = (element, attributes, ...children) => {
    const made = document.createElement(element);
    Object.entries(attributes || {}).forEach(([name, value]) => made.setAttribute(name, value));
    made.append(...children.filter((child) => child !== '' && child !== null));
    return made;
  };
  const link = (kind, id, [title, url]) => make('a', { 'data-ref': `${kind}:${id}`, href: root + url }, title);
  const causeName = (cause) => (cause === ELSE ? words.causeTitle(data, cause) : link('cause', cause, data.causes[cause]));
  const button = (label, act, css) => {
    const made = make('button', Object.assign({ type: 'button' }, css ? { class: css } : {}), ...[].concat(label));
    made.addEventListener('click', act);
    return made;
  };
  const minutes = (number) => `${Math.max(1, Math.round(number))} min`;

  // The messages stand at the head of the page already; what is cloned keeps their words, symbols and colours.
  const cautionOf = (id, told) => {
    const panel = document.querySelector(`.safety .safety-message[data-caution="${id}"]`);
    if (!panel) return null;
    const caution = make('div', { class: 'step-caution', 'data-signal-word': panel.getAttribute('data-signal-word'), 'data-caution': id });
    if (panel.hidden) caution.hidden = true;
    const line = make('p', {}, panel.querySelector('.signal-word').cloneNode(true), ' ');
    const copy = (selector) => Array.from(panel.querySelector(selector).cloneNode(true).childNodes);
    line.append(make('b', {}, ...copy('.hazard')));
    if (!told) panel.querySelectorAll('.avoidance li').forEach((item) => line.append(' ', ...Array.from(item.cloneNode(true).childNodes)));
    caution.append(line);
    return caution;
  };

  /* ---- the next test --------------------------------------------------------------------------------------------------------------------- */

  const accessWords = (names) => names.map((name) =>
    (data.procedures[name] ? link('procedure', name, data.procedures[name]) : name.replace(/-/g, ' ')));
  const joined = (pieces) => pieces.reduce((list, piece, index) => list.concat(index ? [', ', piece] : [piece]), []);

  const stepsOf = (heading, steps) => {
    const here = (steps || []).filter((step) => !step.fits || !machine || step.fits.includes(machine));
    if (here.length === 0) return [];
    const items = here.map((step) => {
      const item = make('li', {});
      (step.cautions || []).forEach((id) => {
        const caution = cautionOf(id, true);
        if (caution) item.append(caution);
      });
      item.append(make('p', { class: 'guide-do' }, textFor(step.do)));
      if (step.confirm) item.append(make('p', { class: 'confirm' }, make('b', {}, 'Check: '), textFor(step.confirm)));
      return item;
    });
    return [make('h4', {}, heading), make('ol', { class: 'guide-steps' }, ...items)];
  };

  const pointsTo = (numbers, test, result, outcome) => {
    if (outcome.proves) return `would prove: ${words.causeTitle(data, outcome.proves)}`;
    const chances = plan.posterior(numbers, seen().concat([[test, result]]));
    if (!chances) return '';
    const [cause, chance] = Array.from(chances).reduce((best, entry) => (entry[1] > best[1] ? entry : best));
    return `then likeliest: ${words.causeTitle(data, cause)}, ${words.percent(chance)}`;
  };

  const answerButtons = (numbers, step) => {
    const test = data.tests[step.test];
    const list = make('div', { class: 'guide-answers', role: 'group', 'aria-labelledby': 'guide-ask' });
    test.results.forEach((result, index) => {
      const outcome = step.outcomes.find((each) => each.results.includes(result));
      const label = textFor(test.seen[index]);
      list.append(button([make('span', { class: 'guide-seen' }, label), make('span', { class: 'guide-means' }, pointsTo(numbers, step.test, result, outcome))],
        () => answer(step.test, result, label), 'quiet'));
    });
    list.append(button('I could not check this', () => answer(step.test, '', 'could not be checked'), 'quiet'));
    return list;
  };

  /* Why this test: what the plan weighs, in words that are true of it. */
  const whyNext = (step) => {
    const proving = step.outcomes.filter((outcome) => outcome.proves);
    const chance = proving.reduce((sum, outcome) => sum + outcome.chance, 0);
    const causes = Array.from(new Set(proving.map((outcome) => words.causeTitle(data, outcome.proves))));
    const proof = causes.length === 0
      ? 'No single result of it proves a cause, but each narrows them down.'
      : `In about ${Math.round(chance * 100)} of 100 cases like this one its result proves a cause at once: ${causes.join('; ')}.`;
    const rule = step.method === 'exact'
      ? 'Among all orders of the tests left, beginning with it takes the fewest minutes to a proof on average.'
      : 'Among the most promising tests left, beginning with it takes the fewest minutes to a proof on average; there are too many orders to compare them all.';
    return make('details', { class: 'guide-why' }, make('summary', {}, 'Why this test now?'), make('p', {}, proof, ' ', rule));
  };

  const testCard = (numbers, step) => {
    const test = data.tests[step.test];
    const kind = test.trial ? 'procedure' : 'test';
    const opening = step.opens.length ? make('p', { class: 'guide-opens' }, make('b', {}, 'First: '), ...joined(accessWords(step.opens))) : '';
    const cautions = (test.cautions || []).map((id) => cautionOf(id, false)).filter(Boolean);
    return make('section', { class: 'guide-card', 'data-next-test': step.test },
      make('h3', { id: 'guide-ask', tabindex: '-1' }, `${test.trial ? 'Try' : 'Test'}: `, link(kind, step.test, [test.title, test.url])),
      make('p', { class: 'guide-time' }, make('b', {}, minutes(step.minutes)), step.opens.length ? ', with what is done first' : ''),
      opening,
      ...cautions,
      make('p', { class: 'guide-purpose' }, textFor(test.purpose)),
      ...stepsOf('What to do', test.steps),
      make('h4', {}, test.trial ? 'What came of it?' : 'What do you find?'),
      answerButtons(numbers, step),
      ...stepsOf('Before you go on', test.finish),
      whyNext(step));
  };

  /* ---- the end ------------------------------------------------------------------------------------------------------------------------------ */

  const curesOf = (chosen, cause) => {
    const remedies = (chosen.remedies || {})[cause] || [];
    if (remedies.length === 0) return [make('p', { 'data-missing': 'remedy' }, 'No procedure of this book cures it. Work by the maker’s manual.')];
    return remedies.map(([procedure, time]) => {
      const job = make('a', { class: 'guide-job', 'data-add-to-job': procedure, href: `${root}job.html#procedures=${procedure}` }, 'Put it in the job');
      const parts = make('div', { 'data-guide-parts': procedure });
      if (machine) showParts(procedure, parts);
      else parts.append(make('p', {}, 'Choose the machine to see the parts.'));
      return make('div', { class: 'guide-cure' },
        make('p', {}, link('procedure', procedure, data.procedures[procedure]), ` (${minutes(time)})`), parts, make('p', {}, job));
    });
  };

  const load = (url) => new Promise((done, failed) => {
    const script = make('script', { src: root + url });
    script.addEventListener('load', done);
    script.addEventListener('error', failed);
    document.head.append(script);
  });

  // Parts and minutes come from the rule of the job page; its data is large, so it is only fetched when a cause is proven.
  let jobRule = null;
  const showParts = (procedure, box) => {
    if (!jobRule) jobRule = load('job-data.js').then(() => load('look/job-list.js'));
    jobRule.then(() => box.append(...window.shearpinJob.brief(procedure, machine)), () => {});
  };

  const provenCard = (chosen, cause, chance) => {
    const [title, url] = data.causes[cause];
    return make('section', { class: 'guide-card guide-proven', 'data-proven': cause },
      make('h3', { id: 'guide-ask', tabindex: '-1' }, 'Proven: ', link('cause', cause, [title, url]), ` (${words.percent(chance)})`),
      make('p', {}, 'Read on its page what confirms it before you order or take apart anything.'),
      make('h4', {}, 'What cures it'), ...curesOf(chosen, cause));
  };

  const stopCard = (chances) => {
    const [cause, chance] = Array.from(chances).reduce((best, entry) => (entry[1] > best[1] ? entry : best));
    return make('section', { class: 'guide-card guide-open', 'data-stopped': '' },
      make('h3', { id: 'guide-ask', tabindex: '-1' }, 'No test left is worth its time'),
      make('p', {}, 'Nothing is proven. The likeliest now is: ', causeName(cause), `, ${words.percent(chance)}. `,
        'Work by the maker’s manual, or ask a colleague; do not change parts on suspicion.'));
  };

  /* What was found, as a file for `shearpin log import`. Nothing about the customer goes into it. */
  const keepForm = (chosen, proven) => {
    const options = Object.keys(chosen.priors).filter((cause) => cause !== ELSE)
      .sort((a, b) => (words.causeTitle(data, a) < words.causeTitle(data, b) ? -1 : 1));
    const choice = make('select', { id: 'kept-cause', autocomplete: 'off' },
      make('option', { value: 'not-proven' }, 'nothing was proven'),
      ...options.map((cause) => make('option', { value: cause }, words.causeTitle(data, cause))),
      make('option', { value: ELSE }, 'something not in this book'));
    choice.value = proven || 'not-proven';
    const day = make('input', { id: 'kept-date', type: 'date', autocomplete: 'off' });
    const now = new Date();
    day.value = [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((part) => String(part).padStart(2, '0')).join('-');
    const time = make('input', { id: 'kept-minutes', inputmode: 'numeric', size: '5', autocomplete: 'off' });
    const said = make('p', { role: 'status' });
    const save = button('Save what was found', () => {
      const took = time.value.trim();
      if (!/^[0-9]{4}-[0-9]{2}-[0-9]{2}$/.test(day.value)) said.textContent = 'Choose the date first.';
      else if (took !== '' && !/^[1-9][0-9]{0,3}$/.test(took)) said.textContent = 'Write the minutes as a whole number, or leave them out.';
      else {
        const row = words.logRow({ date: day.value, machine, symptom: data.symptom, answers, cause: choice.value, minutes: took });
        download(`found-${day.value}-${data.symptom}.csv`, row);
        said.textContent = 'Saved as a file. Whoever keeps the repair log adds it with: shearpin log import FILE';
      }
    });
    const field = (label, control) => make('p', {}, make('label', { for: control.id }, label), control);
    return make('details', { class: 'guide-keep' }, make('summary', {}, 'Keep what was found'),
      make('p', {}, 'Machine, symptom, tests and cause are saved; nothing about the customer.'),
      field('What was proven in the end', choice), field('Date', day), field('Minutes from the first test to the proof', time),
      make('p', {}, save), said);
  };

  const download = (name, content) => {
    const url = URL.createObjectURL(new Blob([content], { type: 'text/csv' }));
    const anchor = make('a', { href: url, download: name });
    document.body.append(anchor);
    anchor.click();
    anchor.remove();
    window.setTimeout(() => URL.revokeObjectURL(url), 10000);
  };

  /* ---- chances, answers ----------------------------------------------------------------------------------------------------------------------- */

  const bars = (chosen, chances) => {
    const rows = Array.from(chances).sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1)).map(([cause, chance]) => {
      const meter = make('meter', { min: '0', max: '1', value: String(chance), 'aria-hidden': 'true' });
      const learned = (chosen.learned || {})[cause];
      return make('li', { 'data-cause': cause },
        make('span', { class: 'guide-cause' }, causeName(cause)),
        make('span', { class: 'guide-chance' }, meter, ` ${words.percent(chance)}, ${words.chanceWord(chance)}`),
        learned && answers.length === 0 ? make('span', { class: 'learned' }, learned) : '');
    });
    return make('section', { class: 'guide-chances' }, make('h3', {}, 'How likely each cause is now'), make('ul', {}, ...rows));
  };

  const given = () => {
    if (answers.length === 0) return '';
    const rows = answers.map(([id, result]) => {
      const test = data.tests[id];
      const label = result ? textFor(test.seen[test.results.indexOf(result)]) : 'could not be checked';
      return make('li', {}, link(test.trial ? 'procedure' : 'test', id, [test.title, test.url]), ': ', label);
    });
    return make('section', { class: 'guide-given' }, make('h3', {}, 'Your answers'), make('ol', {}, ...rows),
      make('p', {}, button('Undo the last answer', undo), ' ', button('Begin again', restart, 'quiet')));
  };

  /* ---- acting ------------------------------------------------------------------------------------------------------------------------------------- */

  const status = make('p', { role: 'status', class: 'unseen' });
  const problem = make('p', { class: 'guide-problem', role: 'alert' });

  const say = (text) => {
    status.textContent = text;
  };
  const keep = () => window.shearpinAddress.here('answers', words.writeAnswers(answers));
  const focusNext = () => {
    const heading = document.getElementById('guide-ask');
    if (!heading) return;
    heading.focus({ preventScroll: true });
    place.scrollIntoView({ block: 'start' });
  };

  const changed = (text) => {
    keep();
    show();
    const heading = document.getElementById('guide-ask');
    say(`${text} ${heading ? heading.textContent : ''}`);
    focusNext();
  };
  const answer = (test, result, label) => {
    answers = answers.concat([[test, result]]);
    changed(`Kept: ${label}`);
  };
  const undo = () => {
    const [test] = answers[answers.length - 1];
    answers = answers.slice(0, -1);
    changed(`Taken back: ${data.tests[test].title}.`);
  };
  const restart = () => {
    answers = [];
    changed('All answers taken back.');
  };

  /* ---- working ahead ---------------------------------------------------------------------------------------------------------------------------- */

  const PAUSE = 250;
  const steps = new Map();
  const keyOf = (chosen, list) => `${data.groups.indexOf(chosen)} ${words.writeAnswers(list)}`;
  const stepAfter = (chosen, list) => {
    const key = keyOf(chosen, list);
    if (!steps.has(key)) steps.set(key, plan.next(numbersOf(chosen), seen(list), skipped(list), firstOf(chosen)));
    return steps.get(key);
  };

  // A test takes minutes at the machine. Meanwhile the step after each of its answers is worked out, one at a time with
  // pauses for the hand that scrolls, so that on an old PC too the next test is there when the answer is given.
  let turn = 0;
  const workAhead = (chosen, step) => {
    turn += 1;
    const mine = turn;
    const before = answers;
    const waiting = step.outcomes.filter((outcome) => outcome.chance > 0 && !outcome.proves).map((outcome) => outcome.results);
    if (step.test) waiting.push(['']);
    const work = () => {
      if (mine !== turn || waiting.length === 0) return;
      const lists = waiting.shift().map((result) => before.concat([[step.test, result]]));
      const found = stepAfter(chosen, lists[0]);
      lists.forEach((list) => steps.set(keyOf(chosen, list), found));
      window.setTimeout(work, PAUSE);
    };
    window.setTimeout(work, PAUSE);
  };

  /* ---- showing ------------------------------------------------------------------------------------------------------------------------------------- */

  const chooseMachine = () => {
    const titles = new Map(Array.from(document.querySelectorAll('[data-machine-choice] option')).map((option) => [option.value, option.textContent]));
    const buttons = data.machines.map((id) => make('button', { type: 'button', class: 'quiet', 'data-choose-machine': id }, titles.get(id) || id));
    return [make('p', { id: 'guide-ask', tabindex: '-1' }, 'Causes and tests differ by machine. Which one is it?'), make('p', { class: 'guide-machines' }, ...buttons)];
  };

  const outOfUse = () => {
    const notice = document.querySelector('article > .out-of-use');
    return notice ? notice.cloneNode(true) : '';
  };

  const show = () => {
    const chosen = group();
    if (machine && !data.machines.includes(machine)) {
      place.hidden = true;
      return;
    }
    place.hidden = false;
    if (!chosen) {
      sheet.replaceChildren(...chooseMachine());
      return;
    }
    const [good, strange] = known(chosen, answers);
    answers = good;
    problem.textContent = strange.length ? `Left out, for they are not of this machine or this book: ${strange.join(', ')}.` : '';
    const numbers = numbersOf(chosen);
    const chances = plan.posterior(numbers, seen());
    if (!chances) {
      sheet.replaceChildren(make('p', { id: 'guide-ask', tabindex: '-1' }, 'These answers contradict each other under every cause. Undo one.'), given());
      return;
    }
    const step = stepAfter(chosen, answers);
    let card = stopCard(chances);
    if (step.proven) card = provenCard(chosen, step.proven, chances.get(step.proven));
    else if (step.test) card = testCard(numbers, step);
    const ended = step.proven || !step.test;
    sheet.replaceChildren(outOfUse(), card, bars(chosen, chances), given(), machine && (ended || answers.length) ? keepForm(chosen, step.proven) : '');
    window.shearpinJob.refresh();
    workAhead(chosen, step);
  };

  const fromAddress = () => {
    machine = window.shearpinMachine.get();
    const asked = window.shearpinAddress.parameters(window.location.hash).get('answers');
    if (asked !== null) answers = words.readAnswers(asked);
  };

  const start = () => {
    sheet.before(status, problem);
    const jumps = document.querySelector('.jumps');
    if (jumps) jumps.prepend(make('a', { href: '#guide' }, place.querySelector('h2').textContent));
    fromAddress();
    show();
    keep();
    document.addEventListener('shearpin:machine', () => {
      const before = machine;
      machine = window.shearpinMachine.get();
      if (machine !== before) show();
    });
    window.addEventListener('hashchange', () => {
      const before = words.writeAnswers(answers);
      fromAddress();
      if (words.writeAnswers(answers) !== before) show();
      keep();
    });
  };

  // The scripts that know the address come last on a page.
  document.addEventListener('DOMContentLoaded', start);
})();
