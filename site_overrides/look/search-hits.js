/* The hits below a search box: what was found, corrected, or searched in vain. */
(() => {
  'use strict';

  const MOST_SHOWN = 50;
  const PAUSE_MS = 120;
  const SETTLED_MS = 2000;
  // Who listens hears what was found when the typing rests, not at each key.
  const SAID_AFTER_MS = 800;
  const NONE = -1;
  const LONGEST_SHOWN = 120;

  const { keepMiss, readMisses, missesLink } = window.shearpinMisses;

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
    source: 'Source', edition: 'Edition', figure: 'Drawing',
  };
  const OFFERED = ['symptom', 'procedure', 'value', 'test', 'cause', 'part', 'tool', 'system', 'machine', 'engine', 'term'];

  const machineTitle = (id) => {
    const option = Array.from(document.querySelectorAll('[data-machine-choice] option')).find((o) => o.value === id);
    return option ? option.textContent : id;
  };

  // The excerpt, with the words that were looked for marked.
  const excerptOf = (text, terms, analyser) => {
    const paragraph = make('p', 'search-excerpt');
    text.replace(/ …$/, '\u00a0…').split(/(\s+)/).forEach((word) => {
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

  const shortened = (text) => (text.length > LONGEST_SHOWN ? `${text.slice(0, LONGEST_SHOWN)} …` : text);

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
      this.sayTimer = 0;
      this.keyAt = -SAID_AFTER_MS;
      this.focused = NONE;
      this.status = make('p', 'search-note');
      this.status.setAttribute('aria-hidden', 'true');
      this.said = make('p', 'unseen');
      this.said.setAttribute('role', 'status');
      this.said.setAttribute('aria-live', 'polite');
      this.onPaper = make('p', 'search-asked');
      this.list = make('div');
      this.makeFilters();
      container.append(this.filters, this.onPaper, this.status, this.said, this.list);
      this.fallback = document.querySelectorAll('[data-search-fallback]');
      input.addEventListener('input', () => this.later());
      input.addEventListener('focus', () => engine.ready().catch(() => {}));
      container.addEventListener('keydown', (event) => this.move(event));
      this.list.addEventListener('click', (event) => {
        const opened = this.links().indexOf(event.target.closest('a'));
        if (opened >= 0) this.keep({ hits: this.limit, opened });
      });
      input.addEventListener('keydown', (event) => this.move(event));
      window.addEventListener('hashchange', () => this.fromAddress());
      document.addEventListener('shearpin:machine', () => this.show());
      this.fromAddress(input.value.trim());
    }

    makeFilters() {
      this.filters = make('p', 'search-filters');
      this.filters.hidden = true;
      this.kind = make('select');
      [['', 'All kinds'], ...OFFERED.map((kind) => [kind, KIND_WORDS[kind]])].forEach(([value, words]) => {
        const option = make('option', '', words);
        option.value = value;
        this.kind.append(option);
      });
      const kind = make('label', '', 'Kind of page ');
      kind.append(this.kind);
      this.fitting = make('input');
      this.fitting.type = 'checkbox';
      this.machineWords = make('span');
      this.forMachine = make('label', 'search-fitting');
      this.forMachine.append(this.fitting, this.machineWords);
      this.filters.append(kind, this.forMachine);
      [this.kind, this.fitting].forEach((field) => field.addEventListener('change', () => {
        this.limit = this.engine.shown;
        this.now();
      }));
    }

    links() {
      return Array.from(this.list.querySelectorAll('.search-hit > a'));
    }

    // What the filters leave, as the address holds it.
    filtersChosen() {
      return { kind: this.kind.value, fitting: this.fitting.checked ? '1' : '' };
    }

    // The entry of the history keeps how many hits were shown, and from which one a page was opened: for who comes back.
    keep(values) {
      history.replaceState(Object.assign({}, history.state, values), '');
    }

    // `early` is what was typed before the scripts were there.
    fromAddress(early) {
      const typed = this.engine.asked() || early || '';
      const hash = this.engine.readHash();
      this.literal = hash.get('exact') === '1';
      this.kind.value = OFFERED.includes(hash.get('kind')) ? hash.get('kind') : '';
      this.fitting.checked = hash.get('fitting') === '1';
      if (this.input.value !== typed) this.input.value = typed;
      const { hits, opened } = history.state || {};
      this.limit = hits || this.engine.shown;
      this.focused = opened === undefined ? NONE : opened;
      this.show();
    }

    later() {
      clearTimeout(this.timer);
      this.keyAt = performance.now();
      this.literal = false;
      this.limit = this.engine.shown;
      this.timer = setTimeout(() => this.now(), PAUSE_MS);
    }

    now() {
      clearTimeout(this.timer);
      const address = location.pathname + this.engine.hashFor(this.input.value.trim(), this.literal, this.filtersChosen());
      history.replaceState(Object.assign({}, history.state, { hits: 0, opened: NONE }), '', address);
      this.show();
    }

    show() {
      const query = this.input.value.trim();
      this.turn += 1;
      const { turn } = this;
      clearTimeout(this.missTimer);
      this.filters.hidden = !query;
      if (!query) {
        this.onPaper.textContent = '';
        this.put('', []);
        this.offerLists();
        return;
      }
      this.container.setAttribute('aria-busy', 'true');
      const machine = this.engine.chosenMachine();
      this.forMachine.hidden = !machine;
      this.machineWords.textContent = ` Only what fits the ${machineTitle(machine)}`;
      const { engine, limit, literal } = this;
      const kinds = this.kind.value ? [this.kind.value] : [];
      const fitting = Boolean(machine) && this.fitting.checked;
      const asked = [`“${shortened(query)}”`, ...kinds.map((kind) => KIND_WORDS[kind]), ...(fitting ? [this.machineWords.textContent.trim()] : [])];
      this.onPaper.textContent = '';
      this.onPaper.append(...asked.map((words) => make('span', '', words)));
      Promise.all([engine.search(query, { machine, limit, literal, kinds, fitting }), engine.ready()]).then(
        ([result, found]) => {
          if (turn === this.turn) this.render(result, machine, found.planner);
        },
        (error) => {
          if (turn === this.turn) this.put(`The search cannot read ${error.message}: this copy of the manual is not whole.`, []);
        }
      );
    }

    put(words, elements, alsoSaid = '') {
      this.container.removeAttribute('aria-busy');
      this.status.textContent = words;
      this.say(words, alsoSaid);
      this.list.textContent = '';
      this.list.append(...elements);
      this.fallback.forEach((element) => { element.hidden = true; });
    }

    say(words, also) {
      clearTimeout(this.sayTimer);
      const say = () => {
        this.said.textContent = words;
        if (also) this.said.append(make('span', '', ` ${also}.`));
      };
      const rest = this.keyAt + SAID_AFTER_MS - performance.now();
      if (words && rest > 0) this.sayTimer = setTimeout(say, rest);
      else say();
    }

    offerLists() {
      this.fallback.forEach((element) => { element.hidden = false; });
    }

    render(result, machine, planner) {
      const { analyser } = planner;
      if (!result.hits.length && !result.answer) {
        if (planner.saysSomething(result.query)) this.renderNothing(result);
        else this.put('Type a word that names the part or the fault.', []);
        return;
      }
      const elements = result.answer ? [this.answer(result.answer)] : [];
      if (result.corrected) elements.push(this.corrected(result));
      const hits = make('ol', 'search-hits');
      const terms = new Set(result.terms);
      result.hits.forEach((hit) => hits.append(this.hit(hit, machine, terms, analyser)));
      elements.push(hits);
      if (result.total > result.hits.length && this.limit < MOST_SHOWN) elements.push(this.moreButton());
      const shown = result.hits.length < result.total ? `, the best ${result.hits.length} shown` : '';
      // The answer and the correction are said with the number; they are seen below.
      const also = [result.answer && result.answer.replace(/\n/g, ' '), result.corrected && `Showing results for ${result.corrected}`].filter(Boolean);
      this.put(`${result.total} ${result.total === 1 ? 'page' : 'pages'} found${shown}.`, elements, also.join('. '));
      const link = this.links()[this.focused];
      if (link) link.focus();
      this.focused = NONE;
    }

    // Several figures have a line each.
    answer(words) {
      const answer = make('p', 'search-answer');
      words.split('\n').forEach((line) => answer.append(make('span', '', line)));
      return answer;
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
        this.keep({ hits: this.limit });
        this.show();
      });
      return button;
    }

    renderNothing(result) {
      const elements = [];
      const kind = this.kind.value;
      const filtered = kind || (this.fitting.checked && !this.forMachine.hidden);
      if (filtered) {
        const note = make('p', 'search-note');
        const everything = this.engine.hashFor(result.query, this.literal, { kind: '', fitting: '' });
        note.append(linkTo('Search in all pages', everything), '.');
        elements.push(note);
      }
      if (result.nearest.length) {
        const note = make('p', 'search-note', 'Words of this book that look like it: ');
        result.nearest.forEach((word) => {
          const near = linkTo(word, this.engine.hashFor(word, false));
          near.className = 'search-near';
          note.append(near, ' ');
        });
        elements.push(note);
      }
      const among = filtered ? ' among the pages you chose' : '';
      this.put(`Nothing found for “${shortened(result.query)}”${among}.`, elements);
      if (filtered) return;
      this.offerLists();
      this.missTimer = setTimeout(() => {
        keepMiss(result.query);
        const note = make('p', 'search-note', 'Noted on this computer for the writer. ');
        note.append(missesLink(readMisses()), '.');
        this.list.append(note);
      }, SETTLED_MS);
    }

    // Arrow keys go from the box through the hits and back, Escape goes back to the box.
    move(event) {
      if (event.key === 'Escape' && event.target !== this.input) {
        this.input.focus();
        return;
      }
      if (event.key !== 'ArrowDown' && event.key !== 'ArrowUp') return;
      const links = this.links();
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
