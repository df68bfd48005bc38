/* The hits below a search box: what was found, corrected, or searched in vain. */
(() => {
  'use strict';

  const MOST_SHOWN = 50;
  const PAUSE_MS = 120;
  const SETTLED_MS = 2000;
  const MISSES_KEPT = 200;
  const MISSES = 'shearpin.misses';

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

  const linkTo = (words, hash) => {
    const link = make('a', '', words);
    link.href = hash;
    return link;
  };

  class Results {
    // `engine` searches and knows the address; see search.js.
    constructor(container, input, engine) {
      this.container = container;
      this.input = input;
      this.engine = engine;
      this.turn = 0;
      this.limit = this.engine.shown;
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
      input.addEventListener('focus', () => engine.ready().catch(() => {}));
      container.addEventListener('keydown', (event) => this.move(event));
      input.addEventListener('keydown', (event) => this.move(event));
      window.addEventListener('hashchange', () => this.fromAddress());
      document.addEventListener('shearpin:machine', () => this.show());
      this.fromAddress(input.value.trim());
    }

    // `early` is what was typed before the scripts were there.
    fromAddress(early) {
      const typed = this.engine.asked() || early || '';
      this.literal = this.engine.readHash().get('exact') === '1';
      if (this.input.value !== typed) this.input.value = typed;
      this.limit = this.engine.shown;
      this.show();
    }

    later() {
      clearTimeout(this.timer);
      this.literal = false;
      this.limit = this.engine.shown;
      this.timer = setTimeout(() => this.now(), PAUSE_MS);
    }

    now() {
      clearTimeout(this.timer);
      const address = location.pathname + this.engine.hashFor(this.input.value.trim(), this.literal);
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
      const machine = this.engine.chosenMachine();
      const { engine } = this;
      Promise.all([engine.search(query, { machine, limit: this.limit, literal: this.literal }), engine.ready()]).then(
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
      if (!result.hits.length && result.answer) {
        this.put(result.answer, []);
        return;
      }
      if (!result.hits.length) {
        this.renderNothing(result);
        return;
      }
      const elements = result.answer ? [make('p', 'search-answer', result.answer)] : [];
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
      link.href = this.engine.root + withMachine(hit.url, machine);
      item.append(link, ' ', make('span', 'search-kind', KIND_WORDS[hit.kind] || hit.kind));
      if (!hit.fits) item.append(' ', make('span', 'search-note not-yours', `not for the ${machineTitle(machine)}`));
      item.append(excerptOf(hit.excerpt, terms, analyser));
      return item;
    }

    corrected(result) {
      const note = make('p', 'search-note');
      note.append('Showing results for ', make('b', '', result.corrected), '. Search instead for ');
      note.append(linkTo(result.query, this.engine.hashFor(result.query, true)), '.');
      return note;
    }

    moreButton() {
      const button = make('button', 'search-more', 'Show more');
      button.type = 'button';
      button.addEventListener('click', () => {
        this.focused = this.limit;
        this.limit = Math.min(MOST_SHOWN, this.limit + this.engine.shown);
        this.show();
      });
      return button;
    }

    renderNothing(result) {
      const elements = [];
      if (result.nearest.length) {
        const note = make('p', 'search-note', 'Words of this book that look like it: ');
        result.nearest.forEach((word, number) => note.append(number ? ', ' : '', linkTo(word, this.engine.hashFor(word, false))));
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
      const many = misses.length === 1 ? 'the search' : `the list of ${misses.length} searches`;
      const link = make('a', '', `Save ${many} that found nothing`);
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

  window.shearpinSearchParts = Object.assign(window.shearpinSearchParts || {}, { Results });
})();
