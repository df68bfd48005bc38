/* The search box. On a page with [data-search-results] it searches while one types (search-hits.js); elsewhere the form
   leads to the search page. The query lives in the address (#q=words), beside the machine, whose script is machine.js.
   What only a search needs is read when one begins.

   window.shearpinSearch(query, {machine, limit, literal, kinds, fitting}) gives a promise of what `shearpin find --json` prints. */
(() => {
  'use strict';

  const HERE = document.currentScript.src.replace(/[^/]*$/, '');
  const ROOT = document.documentElement.dataset.root || '';
  const SHOWN = 10;

  /* ---- work in pieces: the page answers between them ------------------------------------------------------------------- */

  // Long enough for a quick computer to come to the end without a pause, in each of which it may paint the page anew.
  const PIECE_MS = 16;
  let since = performance.now();

  const begin = () => { since = performance.now(); };
  const isLong = () => performance.now() - since >= PIECE_MS;
  // A message comes sooner than a timer, and the page may be painted before it.
  const pause = () => new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => {
      port1.close();
      begin();
      resolve();
    };
    port2.postMessage(null);
  });
  const pauseIfLong = () => (isLong() ? pause() : Promise.resolve());

  /* ---- reading the index ---------------------------------------------------------------------------------------------- */

  const files = new Map();
  const reading = new Map();
  window.shearpinIndex = (name, data) => files.set(name, data);

  const readScript = (address) => new Promise((resolve, reject) => {
    const script = document.createElement('script');
    script.charset = 'utf-8';
    script.async = false;
    script.onload = () => {
      begin();
      resolve();
    };
    script.onerror = () => reject(new Error(address));
    script.src = address;
    document.head.appendChild(script);
  });

  const readFile = (name) => {
    if (!reading.has(name)) {
      const read = readScript(`${ROOT}index/${name}.js`).then(() => {
        if (!files.has(name)) throw new Error(name);
      });
      // A stick may have been pulled out for a moment: the next search tries again.
      reading.set(name, read.catch((error) => {
        reading.delete(name);
        throw error;
      }));
    }
    return reading.get(name);
  };

  // All that a search needs, in one file: the build makes it of the scripts beside this one (site/theme.py).
  let parts = null;
  const readParts = () => {
    if (!parts) {
      parts = readScript(`${HERE}search-parts.js`);
      parts.catch(() => { parts = null; });
    }
    return parts;
  };

  // Take steps that yield names of files to be read first, or null where they may be interrupted.
  const take = (steps) => {
    let next = steps.next();
    while (!next.done && !next.value && !isLong()) next = steps.next();
    if (next.done) return Promise.resolve(next.value);
    return (next.value ? readFiles(next.value) : pause()).then(() => take(steps));
  };

  // Sending for a file takes a while too.
  const readFiles = (names, from = 0) => {
    const reads = [];
    let at = from;
    do {
      reads.push(readFile(names[at]));
      at += 1;
    } while (at < names.length && !isLong());
    if (at < names.length) reads.push(pause().then(() => readFiles(names, at)));
    return Promise.all(reads);
  };

  let ranking = null;
  const ready = () => {
    if (!ranking) {
      ranking = Promise.all([readFile('head'), readParts()]).then(pauseIfLong).then(
        () => new window.shearpinSearchParts.Ranking(files.get('head'), files)
      );
      ranking.catch(() => { ranking = null; });
    }
    return ranking;
  };

  // What divides a quantity from the unit it is to be converted to.
  const BETWEEN = / (?:in|to|into|as|is|are|=) (?=[^ ])/i;
  let conversions = null;
  const converter = () => {
    if (!conversions) {
      const reader = window.shearpinBench ? Promise.resolve() : readScript(`${HERE}calculators-reading.js`);
      conversions = Promise.all([readFile('units'), reader.then(() => readScript(`${HERE}search-convert.js`)), ready()]).then(
        () => new window.shearpinSearchParts.Converter(files.get('units'), BETWEEN)
      );
      conversions.catch(() => { conversions = null; });
    }
    return conversions;
  };
  const answerTo = (query) => (/[0-9½⅓⅔¼¾⅛⅜⅝⅞]/.test(query) && BETWEEN.test(query)
    ? converter().then((found) => found.answer(query)) : Promise.resolve(null));

  const search = (query, options) => Promise.all([ready(), answerTo(query)]).then(([found, answer]) => {
    const { machine = null, limit = SHOWN, literal = false, kinds = [], fitting = false } = options || {};
    return take(found.search(query, machine, limit, literal, kinds, fitting))
      .then((result) => Object.assign(result, { answer: answer || result.answer }));
  });
  window.shearpinSearch = search;

  /* ---- the address ------------------------------------------------------------------------------------------------------ */

  const readHash = () => {
    const bare = location.hash.replace(/^#/, '');
    return new URLSearchParams(bare.includes('=') ? bare : '');
  };
  const chosenMachine = () => (window.shearpinMachine ? window.shearpinMachine.get() : readHash().get('machine')) || '';

  // The filters of the page stay in the address: `kind` is one kind of page, `fitting` is 1 for those of the machine alone.
  const hashFor = (query, literal, filters = {}) => {
    const parameters = readHash();
    parameters.delete('q');
    parameters.delete('exact');
    Object.keys(filters).forEach((name) => {
      if (filters[name]) parameters.set(name, filters[name]);
      else parameters.delete(name);
    });
    const machine = chosenMachine();
    if (machine) parameters.set('machine', machine);
    if (query) parameters.set('q', query);
    if (literal) parameters.set('exact', '1');
    const hash = parameters.toString();
    return hash ? `#${hash}` : '';
  };

  /* ---- start ------------------------------------------------------------------------------------------------------------ */

  const forms = Array.from(document.querySelectorAll('form[data-search]'));
  const container = document.querySelector('[data-search-results]');
  const boxOf = (form) => form.querySelector('input[name="q"]');
  const home = container && forms.length ? forms.find((form) => !form.classList.contains('compact')) || forms[0] : null;
  const asked = () => readHash().get('q') || new URLSearchParams(location.search).get('q') || '';
  let results = null;
  if (home) {
    // What hits take the place of is not laid out before them.
    const instead = asked().trim() ? Array.from(document.querySelectorAll('[data-search-fallback]')) : [];
    instead.forEach((element) => { element.hidden = true; });
    // Reading files takes longer than anything else here: those of the words asked for are sent for before all is ready to show
    // hits. With nothing asked, what every search needs is read once the page is there.
    if (asked().trim()) {
      const ahead = (found) => pauseIfLong().then(() => take(found.plan(asked().trim(), readHash().get('machine'), readHash().get('exact') === '1')));
      ready().then(ahead).catch(() => {});
    } else window.addEventListener('load', () => setTimeout(() => ready().catch(() => {})));
    // The machine on the bench is known once its script has run, which comes after this one.
    const machineKnown = window.shearpinMachine || document.readyState !== 'loading' ? Promise.resolve()
      : new Promise((resolve) => ['shearpin:known', 'DOMContentLoaded'].forEach((event) => {
        document.addEventListener(event, resolve, { once: true });
      }));
    Promise.all([readParts(), machineKnown]).then(pauseIfLong).then(() => {
      const engine = { search, ready, asked, readHash, chosenMachine, hashFor, root: ROOT, shown: SHOWN };
      results = new window.shearpinSearchParts.Results(container, boxOf(home), engine);
    }).catch(() => { instead.forEach((element) => { element.hidden = false; }); });
  }

  forms.forEach((form) => form.addEventListener('submit', (event) => {
    event.preventDefault();
    const query = boxOf(form).value.trim();
    if (form === home && results) results.now();
    else if (form !== home) location.href = `${ROOT}search.html${hashFor(query, false)}`;
  }));

  document.addEventListener('keydown', (event) => {
    const { target } = event;
    const writing = target instanceof Element && target.closest('input, textarea, select, [contenteditable]');
    if (event.key !== '/' || event.ctrlKey || event.altKey || event.metaKey || writing || !forms.length) return;
    event.preventDefault();
    const box = boxOf(home || forms[0]);
    box.focus();
    box.select();
  });
})();
