/* Paper. Where the browser can write in the margin of a sheet, machine, title, edition and the dangers of the page stand
   at the head of each further sheet; other browsers repeat the head that the page has. A procedure or test prints as a
   bench sheet, or whole. */
(() => {
  'use strict';

  const page = document.documentElement;
  const head = document.querySelector('.print-head');
  if (!head) return;

  /* ---- the head of each sheet ------------------------------------------------------------------------------------- */

  const quoted = (text) => `"${text.replace(/\\/g, '\\\\').replace(/"/g, '\\"').replace(/\s+/g, ' ')}"`;

  const dangers = () => Array.from(document.querySelectorAll('article > .safety .safety-message[data-signal-word="DANGER"]'))
    .filter((message) => !message.hidden)
    .map((message) => message.querySelector('.hazard').textContent);

  const sheet = 'CSSMarginRule' in window && 'adoptedStyleSheets' in document ? new CSSStyleSheet() : null;

  const LINE = 110; // letters across the narrower paper
  const FIRST = '@page :first { margin-top: 9mm; @top-left { content: none; } }';  // it has the head of the page itself

  const write = () => {
    const title = quoted(Array.from(head.children, (piece) => piece.textContent.trim()).join(' · '));
    const found = dangers();
    const word = document.querySelector('article > .safety [data-signal-word="DANGER"] .signal-word');
    const lines = found.length ? `${title} "\\a" ${quoted(`${word.textContent.trim()}: ${found.join(' ')}`)}` : title;
    // mm: a line each for short titles and few dangers, which most pages have; more, and long words, need more room
    const rows = Math.ceil(title.length / (LINE + 50)) + Math.ceil(found.join(' ').length / LINE);
    const top = Math.ceil(8 + 3 * rows + Math.max(0, rows - 3) * 0.6);
    sheet.replaceSync(`@page { margin-top: ${top}mm; @top-left { content: ${lines}; } }`);
    sheet.insertRule(FIRST, 1);
  };

  if (sheet) {
    write();
    document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
    page.setAttribute('data-margin-head', '');
    document.addEventListener('shearpin:machine', write);
    window.addEventListener('beforeprint', write);
  }

  /* ---- the bench sheet, or all of it -------------------------------------------------------------------------------- */

  const acts = document.querySelector('[data-work-acts]');
  if (!acts) return;
  const print = (words, whole) => {
    const button = document.createElement('button');
    button.type = 'button';
    button.className = 'quiet';
    button.textContent = words;
    button.addEventListener('click', () => {
      page.setAttribute('data-print', whole ? 'whole' : 'bench');
      window.print();
    });
    acts.append(button);
  };
  window.addEventListener('afterprint', () => page.removeAttribute('data-print'));
  print('Print the bench sheet', false);
  print('Print all of it', true);
})();
