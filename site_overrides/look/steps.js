/* Work at the bench: steps are ticked off, and can be shown one at a time, large, for hands that hold tools. Both are
   made from the steps on the page; without this script the page is complete. Ticks are kept for half a day where the
   browser lets a page from a folder keep anything: yesterday's ticks must not pass for today's work. */
(() => {
  'use strict';

  const article = document.querySelector('article[data-kind="procedure"], article[data-kind="test"]');
  const steps = article ? Array.from(article.querySelectorAll('ol[data-steps] > li[data-step]')) : [];
  if (!steps.length) return;

  const HALF_A_DAY = 12 * 60 * 60 * 1000; // milliseconds
  const machine = () => (window.shearpinMachine ? window.shearpinMachine.get() : '');

  const make = (element, attributes = {}, ...children) => {
    const made = document.createElement(element);
    Object.entries(attributes).forEach(([name, value]) => made.setAttribute(name, value));
    made.append(...children);
    return made;
  };

  /* ---- ticks ------------------------------------------------------------------------------------------------------------ */

  const boxes = steps.map((step) => {
    const box = make('input', { type: 'checkbox', autocomplete: 'off' });
    step.append(make('label', { class: 'tick' }, box, make('span', { class: 'unseen' }, `Step ${step.value} is done`)));
    return box;
  });

  // Ticks belong to this machine and to these very steps: a reworded page begins anew.
  const key = () => {
    const words = steps.map((step) => step.textContent).join('\n');
    let sum = 0;
    for (let index = 0; index < words.length; index += 1) sum = (Math.imul(sum, 31) + words.charCodeAt(index)) | 0;
    const { kind, id } = article.dataset;
    return `shearpin.ticks ${kind} ${id} ${machine()} ${sum >>> 0}`;
  };

  const recall = () => {
    try {
      const kept = JSON.parse(window.localStorage.getItem(key()));
      return kept && Date.now() - kept.at < HALF_A_DAY ? kept : null;
    } catch (error) {
      return null;
    }
  };

  const keep = () => {
    const done = boxes.filter((box) => box.checked).map((box) => boxes.indexOf(box));
    try {
      if (done.length) window.localStorage.setItem(key(), JSON.stringify({ at: Date.now(), done }));
      else window.localStorage.removeItem(key());
    } catch (error) {
      // the ticks stay as long as the page does
    }
  };

  const count = make('p', { class: 'ticked', role: 'status' });
  const clear = make('button', { type: 'button', class: 'quiet' }, 'Clear the ticks');
  const open = make('button', { type: 'button' }, 'One step at a time');
  const tools = make('div', { class: 'step-tools' }, open, clear, count);
  steps[0].parentElement.before(tools);
  article.querySelectorAll('ol[data-steps]').forEach((list) => list.classList.add('can-tick'));

  const shown = () => steps.filter((step) => !step.hidden);
  const boxOf = (step) => boxes[steps.indexOf(step)];

  const tell = (since) => {
    const here = shown();
    const done = here.filter((step) => boxOf(step).checked).length;
    steps.forEach((step) => step.classList.toggle('done', boxOf(step).checked));
    clear.hidden = done === 0;
    const clock = since ? `, the last at ${new Date(since).toTimeString().slice(0, 5)}` : '';
    count.textContent = done ? `${done} of ${here.length} steps ticked${clock}.` : '';
  };

  const load = () => {
    const kept = recall();
    boxes.forEach((box, index) => {
      box.checked = Boolean(kept && kept.done.includes(index));
    });
    tell(kept && kept.at);
  };

  boxes.forEach((box) => box.addEventListener('change', () => {
    keep();
    tell(null);
  }));
  clear.addEventListener('click', () => {
    boxes.forEach((box) => {
      box.checked = false;
    });
    keep();
    tell(null);
    open.focus();
  });

  /* ---- one step at a time --------------------------------------------------------------------------------------------------- */

  const heading = make('h2', { tabindex: '-1', id: 'one-step-heading' });
  const bench = make('p', { class: 'one-step-bench' });
  const sheet = make('div', { class: 'one-step-sheet', tabindex: '0', role: 'group', 'aria-labelledby': 'one-step-heading' });
  const back = make('button', { type: 'button' }, 'Back');
  const next = make('button', { type: 'button' });
  const leave = make('button', { type: 'button', class: 'quiet' }, 'Whole page');
  const view = make('dialog', { class: 'one-step', 'aria-labelledby': 'one-step-heading' },
    make('div', { class: 'one-step-head' }, make('div', {}, bench, heading), leave),
    sheet,
    make('div', { class: 'one-step-keys' }, back, next));
  document.body.append(view);
  let at = 0; // 0: what comes before the first step; then the number of the step among those shown

  const copied = (element) => {
    const copy = element.cloneNode(true);
    [copy, ...copy.querySelectorAll('[id]')].forEach((each) => each.removeAttribute('id'));
    copy.querySelectorAll('.tick').forEach((each) => each.remove());
    return copy;
  };

  const before = () => {
    const parts = Array.from(article.querySelectorAll('.misfit, .draft, .out-of-use, .safety, .before, #tools'));
    return parts.filter((part) => !part.hidden).map(copied);
  };

  const note = (number) => {
    const parameters = new URLSearchParams(location.hash.includes('=') ? location.hash.slice(1) : '');
    if (number === null) parameters.delete('step');
    else parameters.set('step', number);
    const hash = parameters.toString();
    history.replaceState(history.state, '', location.pathname + location.search + (hash && `#${hash}`));
  };

  const unseen = () => sheet.scrollHeight - sheet.clientHeight - sheet.scrollTop > 2;

  const label = () => {
    if (unseen()) next.textContent = 'Show the rest';
    else if (at === 0) next.textContent = 'I have read this';
    else next.textContent = at === shown().length ? 'Done: that was the last' : 'Done: next step';
  };

  const draw = (toFocus) => {
    const here = shown();
    at = Math.min(at, here.length);
    const step = here[at - 1];
    const choice = document.querySelector('[data-machine-choice]');
    const title = article.querySelector('h1').textContent;
    bench.textContent = `${machine() && choice ? choice.selectedOptions[0].textContent : 'No machine chosen'} · ${title}`;
    heading.textContent = step ? `Step ${at} of ${here.length}` : 'Before you start';
    sheet.replaceChildren(...(step ? Array.from(copied(step).childNodes) : before()));
    back.disabled = at === 0;
    sheet.scrollTop = 0;
    note(at);
    label();
    if (toFocus) heading.focus();
  };

  const close = () => {
    if (view.open) view.close();
  };

  const go = (way) => {
    const here = shown();
    if (way > 0 && at > 0) {
      const box = boxOf(here[at - 1]);
      if (!box.checked) {
        box.checked = true;
        box.dispatchEvent(new Event('change'));
      }
      if (at === here.length) {
        close();
        return;
      }
    }
    at = Math.max(0, at + way);
    draw(true);
  };

  // The page turns only when all of the step has been in sight, whether by key, pedal or button.
  const turn = (way) => {
    if (way > 0 ? unseen() : sheet.scrollTop > 2) sheet.scrollBy(0, way * sheet.clientHeight * 0.8);
    else if (way > 0 || at > 0) go(way);
  };

  const show = (number) => {
    at = number;
    if (!view.open) view.showModal();
    draw(true);
  };

  const WAYS = { ArrowRight: 1, PageDown: 1, ArrowLeft: -1, PageUp: -1 };
  view.addEventListener('keydown', (event) => {
    if (!(event.key in WAYS) || event.altKey || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    if (!event.repeat) turn(WAYS[event.key]);
  });
  view.addEventListener('close', () => {
    const step = shown()[at - 1];
    note(null);
    open.focus({ preventScroll: true });
    if (step) step.scrollIntoView({ block: 'center' });
  });
  open.addEventListener('click', () => {
    const first = shown().findIndex((step) => !boxOf(step).checked);
    show(first > 0 ? first + 1 : 0); // work that was begun goes on at its first open step
  });
  back.addEventListener('click', () => go(-1));
  next.addEventListener('click', () => turn(1));
  sheet.addEventListener('scroll', label);
  window.addEventListener('resize', label);
  leave.addEventListener('click', close);

  document.addEventListener('shearpin:machine', () => {
    load();
    if (view.open) draw(false);
  });
  load();
  const asked = new URLSearchParams(location.hash.slice(1)).get('step');
  if (asked !== null && /^[0-9]+$/.test(asked)) show(Number(asked));
})();
