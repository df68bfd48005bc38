/* The search box and its hits. On a page with [data-search-results] it searches while one types; elsewhere the form leads
   to the search page. The query lives in the address (#q=words), beside the machine, whose script is machine.js.

   window.shearpinSearch(query, {machine, limit, literal}) gives a promise of what `shearpin find --json` prints. */
(() => {
  'use strict';

  const HERE = document.currentScript.src.replace(/[^/]*$/, '');
  const ROOT = document.documentElement.dataset.root || '';
  const SHOWN = 10;
  const MOST_SHOWN = 50;
  const PAUSE_MS = 120;
  const SETTLED_MS = 2000;
  const MISSES_KEPT = 200;
  const MISSES = 'shearpin.misses';

  /* ---- reading the index ---------------------------------------------------------------------------------------------- */

  const files = new Map();
  const reading = new Map();
  window.shearpinIndex = (name, data) => files.set(name, data);

  const readScript = (address) => new Promise((resolve, reject) => {
    const script = document.createElement('script');
    script.charset = 'utf-8';
    script.async = false;
    script.onload = resolve;
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

  let ranking = null;
  const ready = () => {
    if (!ranking) {
      const parts = ['search-words.js', 'search-plan.js', 'search-rank.js'].map((name) => readScript(HERE + name));
      ranking = Promise.all([readFile('head'), ...parts]).then(
        () => new window.shearpinSearchParts.Ranking(files.get('head'), files)
      );
      ranking.catch(() => { ranking = null; });
    }
    return ranking;
  };

  const search = (query, options) => ready().then((found) => {
    const { machine = null, limit = SHOWN, literal = false } = options || {};
    const step = () => {
      const result = found.search(query, machine, limit, literal);
      return result || Promise.all(found.wanted().map(readFile)).then(step);
    };
    return step();
  });
  window.shearpinSearch = search;

  /* ---- the address ------------------------------------------------------------------------------------------------------ */

  const readHash = () => {
    const bare = location.hash.replace(/^#/, '');
    return new URLSearchParams(bare.includes('=') ? bare : '');
  };
  const chosenMachine = () => (window.shearpinMachine ? window.shearpinMachine.get() : readHash().get('machine')) || '';

  const hashFor = (query, literal) => {
    const parameters = readHash();
    parameters.delete('q');
    parameters.delete('exact');
    const machine = chosenMachine();
    if (machine) parameters.set('machine', machine);
    if (query) parameters.set('q', query);
    if (literal) parameters.set('exact', '1');
    const hash = parameters.toString();
    return hash ? `#${hash}` : '';
  };

  /* ---- searched in vain: kept on this computer for the writer, where the browser lets a page remember ------------------- */

  // Pairs of a query and how often it found nothing, the oldest first.
  const readMisses = () => {
    try {
      const kept = JSON.parse(window.localStorage.getItem(MISSES) || '[]');
      return Array.isArray(kept) ? kept.filter((miss) => Array.isArray(miss) && miss.length === 2) : [];
    } catch (error) {
      return [];
    }
  };

  const keepMiss = (query) => {
    const misses = readMisses();
    const before = misses.find((miss) => miss[0] === query);
    const others = misses.filter((miss) => miss !== before);
    others.push([query, (before ? Number(before[1]) || 0 : 0) + 1]);
    try {
      window.localStorage.setItem(MISSES, JSON.stringify(others.slice(-MISSES_KEPT)));
    } catch (error) {
      // nothing is lost but the note
    }
  };

  /* ---- what is shown ---------------------------------------------------------------------------------------------------- */

  const make = (tag, css, words) => {
    const element = document.createElement(tag);
    if (css) element.className = css;
    if (words !== undefined) element.textContent = words;
    return element;
  };

  const KIND_WORDS = {
    symptom: 'Symptom', procedure: 'Procedure', value: 'Value', test: 'Test', cause: 'Cause', machine: 'Machine',
    engine: 'Engine', system: 'System', part: 'Part', tool: 'Tool', caution: 'Caution', term: 'Glossary', page: 'Page',
    source: 'Source', edition: 'Edition',
  };

  const machineTitle = (id) => {
    const option = Array.from(document.querySelectorAll('[data-machine-choice] option')).find((o) => o.value === id);
    return option ? option.textContent : id;
  };

  // The excerpt, with the words that were looked for marked.
  const excerptOf = (text, terms, analyser) => {
    const paragraph = make('p', 'search-excerpt');
    text.split(/(\s+)/).forEach((word) => {
      const tokens = [].concat(...analyser.word(word).map((chunk) => chunk.tokens));
      const matches = tokens.some((token) => token.kind !== 'not' && terms.has(token.term));
      const [, opening, core, closing] = /^([("']*)(.*?)([.,;:!?)"']*)$/.exec(word);
      if (matches) paragraph.append(opening, make('mark', '', core), closing);
      else paragraph.append(word);
    });
    paragraph.normalize();
    return paragraph;
  };

  // A place on the page goes into the parameters of the hash, where machine.js looks for it.
  const withMachine = (url, machine) => {
    if (!machine) return url;
    const [page, place] = url.split('#');
    const chosen = `${page}#machine=${encodeURIComponent(machine)}`;
    return place ? `${chosen}&at=${encodeURIComponent(place)}` : chosen;
  };

  const linkTo = (words, query, literal) => {
    const link = make('a', '', words);
    link.href = hashFor(query, literal);
    return link;
  };

  class Results {
    constructor(container, input) {
      this.container = container;
      this.input = input;
      this.turn = 0;
      this.limit = SHOWN;
      this.timer = 0;
      this.missTimer = 0;
      this.focused = 0;
      this.status = make('p', 'search-note');
      this.status.setAttribute('role', 'status');
      this.status.setAttribute('aria-live', 'polite');
      this.list = make('div');
      container.append(this.status, this.list);
      this.fallback = document.querySelectorAll('[data-search-fallback]');
      input.addEventListener('input', () => this.later());
      input.addEventListener('focus', () => ready().catch(() => {}));
      container.addEventListener('keydown', (event) => this.move(event));
      input.addEventListener('keydown', (event) => this.move(event));
      window.addEventListener('hashchange', () => this.fromAddress());
      document.addEventListener('shearpin:machine', () => this.show());
      this.fromAddress();
    }

    fromAddress() {
      const asked = readHash();
      const typed = asked.get('q') || new URLSearchParams(location.search).get('q') || '';
      this.literal = asked.get('exact') === '1';
      if (this.input.value !== typed) this.input.value = typed;
      this.limit = SHOWN;
      this.show();
    }

    later() {
      clearTimeout(this.timer);
      this.literal = false;
      this.limit = SHOWN;
      this.timer = setTimeout(() => this.now(), PAUSE_MS);
    }

    now() {
      clearTimeout(this.timer);
      const address = location.pathname + hashFor(this.input.value.trim(), this.literal);
      history.replaceState(history.state, '', address);
      this.show();
    }

    show() {
      const query = this.input.value.trim();
      this.turn += 1;
      const { turn } = this;
      clearTimeout(this.missTimer);
      if (!query) {
        this.put('', []);
        return;
      }
      this.container.setAttribute('aria-busy', 'true');
      const machine = chosenMachine();
      Promise.all([search(query, { machine, limit: this.limit, literal: this.literal }), ready()]).then(
        ([result, found]) => {
          if (turn === this.turn) this.render(result, machine, found.planner.analyser);
        },
        (error) => {
          if (turn === this.turn) this.put(`The search cannot read ${error.message}: this copy of the manual is not whole.`, []);
        }
      );
    }

    put(words, elements) {
      this.container.removeAttribute('aria-busy');
      this.status.textContent = words;
      this.list.textContent = '';
      this.list.append(...elements);
      this.fallback.forEach((element) => { element.hidden = true; });
    }

    render(result, machine, analyser) {
      if (!result.hits.length) {
        this.renderNothing(result);
        return;
      }
      const elements = [];
      if (result.corrected) elements.push(this.corrected(result));
      const hits = make('ol', 'search-hits');
      const terms = new Set(result.terms);
      result.hits.forEach((hit) => hits.append(this.hit(hit, machine, terms, analyser)));
      elements.push(hits);
      if (result.total > result.hits.length && this.limit < MOST_SHOWN) elements.push(this.moreButton());
      const shown = result.hits.length < result.total ? `, the best ${result.hits.length} shown` : '';
      const links = hits.querySelectorAll('a');
      this.put(`${result.total} ${result.total === 1 ? 'page' : 'pages'} found${shown}.`, elements);
      if (this.focused && links[this.focused]) links[this.focused].focus();
      this.focused = 0;
    }

    hit(hit, machine, terms, analyser) {
      const item = make('li', 'search-hit');
      item.dataset.kind = hit.kind;
      item.dataset.id = hit.id;
      const link = make('a', '', hit.title);
      link.href = ROOT + withMachine(hit.url, machine);
      item.append(link, ' ', make('span', 'search-kind', KIND_WORDS[hit.kind] || hit.kind));
      if (!hit.fits) item.append(' ', make('span', 'search-note not-yours', `not for the ${machineTitle(machine)}`));
      item.append(excerptOf(hit.excerpt, terms, analyser));
      return item;
    }

    corrected(result) {
      const note = make('p', 'search-note');
      note.append('Showing results for ', make('b', '', result.corrected), '. Search instead for ');
      note.append(linkTo(result.query, result.query, true), '.');
      return note;
    }

    moreButton() {
      const button = make('button', 'search-more', 'Show more');
      button.type = 'button';
      button.addEventListener('click', () => {
        this.focused = this.limit;
        this.limit = Math.min(MOST_SHOWN, this.limit + SHOWN);
        this.show();
      });
      return button;
    }

    renderNothing(result) {
      const elements = [];
      if (result.nearest.length) {
        const note = make('p', 'search-note', 'Words of this book that look like it: ');
        result.nearest.forEach((word, number) => note.append(number ? ', ' : '', linkTo(word, word, false)));
        elements.push(note);
      }
      this.put(`Nothing found for “${result.query}”.`, elements);
      this.fallback.forEach((element) => { element.hidden = false; });
      this.missTimer = setTimeout(() => {
        keepMiss(result.query);
        this.list.append(this.missesNote());
      }, SETTLED_MS);
    }

    missesNote() {
      const misses = readMisses();
      const note = make('p', 'search-note', 'Noted on this computer for the writer. ');
      const link = make('a', '', `Save the list of ${misses.length} searches that found nothing`);
      const lines = misses.map(([query, times]) => `${times}\t${query}\r\n`).join('');
      link.href = `data:text/plain;charset=utf-8,${encodeURIComponent(lines)}`;
      link.download = 'searched-in-vain.txt';
      note.append(link, '.');
      return note;
    }

    // Arrow keys go from the box through the hits and back.
    move(event) {
      if (event.key !== 'ArrowDown' && event.key !== 'ArrowUp') return;
      const links = Array.from(this.list.querySelectorAll('.search-hit > a'));
      const at = links.indexOf(document.activeElement);
      if (!links.length || (at < 0 && (event.target !== this.input || event.key === 'ArrowUp'))) return;
      event.preventDefault();
      const next = at + (event.key === 'ArrowDown' ? 1 : -1);
      if (next < 0) this.input.focus();
      else if (next < links.length) links[next].focus();
    }
  }

  /* ---- start ------------------------------------------------------------------------------------------------------------ */

  const forms = Array.from(document.querySelectorAll('form[data-search]'));
  const container = document.querySelector('[data-search-results]');
  const boxOf = (form) => form.querySelector('input[name="q"]');
  const home = container && forms.length ? forms.find((form) => !form.classList.contains('compact')) || forms[0] : null;
  const results = home ? new Results(container, boxOf(home)) : null;

  forms.forEach((form) => form.addEventListener('submit', (event) => {
    event.preventDefault();
    const query = boxOf(form).value.trim();
    if (results && form === home) results.now();
    else location.href = `${ROOT}search.html${hashFor(query, false)}`;
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
