/* From what was typed to what is looked up: part numbers, synonyms, joined words, then spelling. The same steps in the
   same order as shearpin/search/query.py. `lists` is the index as far as it has been read. */
(() => {
  'use strict';

  const { Spelling, before, kindFactors, split } = window.shearpinSearchParts;
  const MAX_CODE_RUN = 3;
  const MIN_CODE = 4;
  const LONG_NUMBER = 5;
  const MIN_ACCIDENT = 4;
  const SHORT_LETTERS = 3;

  /* ---- meanings, whole lines, words near one another ------------------------------------------------------------- */

  const LONGEST_LINE = 8;
  const NEAR = 2;
  const NO_TERM = '?';

  // Five letters and figures: 24 bits of FNV-1a.
  const shortHash = (text) => {
    let value = 0x811c9dc5;
    for (let i = 0; i < text.length; i += 1) value = Math.imul(value ^ text.charCodeAt(i), 0x01000193) >>> 0;
    value &= 0xffffff;
    let digits = '';
    for (let i = 0; i < 5; i += 1) {
      digits += (value % 36).toString(36);
      value = Math.floor(value / 36);
    }
    return digits;
  };

  // Terms with each synonym, of however many words, replaced by its concept; of several the first by name.
  const meanings = (terms, lists) => {
    const meant = [];
    for (let start = 0; start < terms.length;) {
      const from = start;
      const stands = (phrase) => !phrase.preferred && phrase.terms.every((term, i) => terms[from + i] === term);
      const there = lists.phrases(terms[start]).filter(stands);
      const size = Math.max(1, ...there.map((phrase) => phrase.terms.length));
      const longest = there.filter((phrase) => phrase.terms.length === size).map((phrase) => phrase.concept);
      meant.push(longest.length ? longest.sort(before)[0] : terms[start]);
      start += size;
    }
    return meant;
  };

  const lineKey = (meant) => {
    if (!meant.length || meant.length > LONGEST_LINE) return null;
    const sorted = meant.slice().sort(before);
    return `${sorted[0].replace(/!$/, '')}=${shortHash(sorted.join(' '))}`;
  };

  // Whether what follows this word as typed is another matter.
  const endsClause = (word) => word.toLowerCase() === 'but' || word.endsWith(',');

  // Terms for every two meanings that have at most one other between them, in either order; each once.
  const nearPairs = (meant) => {
    const plain = meant.map((meaning) => meaning.replace(/!$/, ''));
    const pairs = new Set();
    for (let distance = 1; distance <= NEAR; distance += 1) {
      for (let i = 0; i + distance < plain.length; i += 1) {
        const [left, right] = [plain[i], plain[i + distance]].sort(before);
        if (left !== right) pairs.add(`${left}&${right}`);
      }
    }
    return Array.from(pairs);
  };

  /* ---- the plan --------------------------------------------------------------------------------------------------------- */

  class Planner {
    constructor(tables, analyser) {
      this.tables = tables;
      this.analyser = analyser;
      this.spelling = new Spelling(tables);
      this.weakWords = new Set(tables.WEAK_WORDS);
      this.weakPairs = new Set(tables.WEAK_PAIRS);
      this.intentWords = new Map(Object.entries(tables.INTENT_WORDS).map(([name, words]) => [name, new Set(words)]));
    }

    // Null when files are still to be read; `lists` then knows which.
    plan(query, lists, literal) {
      const typed = split(query);
      const items = this.readItems(typed);
      const draft = {
        items,
        typed,
        alternatives: items.map(() => new Map()),
        coded: items.map(() => false),
        inPhrase: items.map(() => false),
        longCode: false,
      };
      this.lookUpCodes(draft, lists);
      this.lookUpFigures(draft, lists);
      const known = this.lookUpPhrases(draft, lists);
      this.lookUpJoined(draft, lists);
      const unknown = this.lookUpWords(draft, lists);
      // Asked before all is read, for its files to be read along with the others.
      const byAccident = literal ? [] : items.map((_, index) => this.stemsByAccident(draft, lists, index));
      if (!lists.complete()) return null;
      const corrections = literal ? new Map() : this.respell(draft, lists, unknown, byAccident);
      if (!lists.complete()) return null;
      if (!literal) known.forEach((word, index) => corrections.set(index, word));
      if (corrections.size) {
        const corrected = this.rewrite(typed, items, corrections);
        const plan = this.plan(corrected, lists, true);
        return plan && Object.assign(plan, { corrected });
      }
      const intent = this.intentOf(items, typed, draft.longCode);
      return {
        units: this.units(draft, intent),
        pairs: this.nearPairs(items, typed, lists).filter((pair) => lists.find(pair)),
        line: this.line(items, lists, intent),
        intent,
        factors: kindFactors(this.tables, typed, intent),
        corrected: null,
        unknown: unknown.map((index) => items[index].token.raw),
      };
    }

    // Pairs of words near one another within a clause, each once.
    nearPairs(items, typed, lists) {
      const clauses = [];
      let last = 0;
      items.forEach(({ token, word }) => {
        if (!clauses.length || typed.slice(last, word).some(endsClause)) clauses.push([]);
        clauses[clauses.length - 1].push(token.term);
        last = word;
      });
      return Array.from(new Set([].concat(...clauses.map((clause) => nearPairs(meanings(clause, lists))))));
    }

    // Whether there is more in it than small words and signs.
    saysSomething(query) {
      return this.readItems(split(query)).length > 0;
    }

    readItems(typed) {
      const tokens = [];
      const origins = [];
      let previous = null;
      typed.forEach((text, number) => {
        const last = tokens[tokens.length - 1];
        let size = tokens.length;
        previous = this.analyser.extend(tokens, previous, this.analyser.word(text));
        if (size && (tokens.length < size || tokens[size - 1] !== last)) size -= 1;
        origins.length = size;
        while (origins.length < tokens.length) origins.push(number);
      });
      const { MANY_QUERY_WORDS, MAX_QUERY_WORDS } = this.tables;
      let items = tokens.map((token, index) => ({ token, word: origins[index] }));
      // A long query, as a customer's message: without the words that fill a complaint.
      if (items.length > MANY_QUERY_WORDS) items = items.filter(({ token }) => token.kind === 'not' || !this.weakWords.has(token.raw));
      return items.slice(0, MAX_QUERY_WORDS);
    }

    // Part numbers: written with separators or spaces, whole or only their beginning.
    lookUpCodes(draft, lists) {
      const { items, coded } = draft;
      for (let size = Math.min(MAX_CODE_RUN + 1, items.length); size > 0; size -= 1) {
        for (let start = 0; start + size <= items.length; start += 1) {
          const code = coded.slice(start, start + size).includes(true) ? '' : this.codeOf(draft, start, size, lists);
          const found = code ? this.codeTerms(code, lists) : new Map();
          if (found.size) {
            coded.fill(true, start, start + size);
            draft.alternatives[start] = found;
            draft.longCode = draft.longCode || (code.length >= LONG_NUMBER && /[0-9]/.test(code));
          }
        }
      }
    }

    codeOf(draft, start, size, lists) {
      const items = draft.items.slice(start, start + size);
      const written = items.map((item) => item.token.raw).join('');
      const code = written.replace(/[.,/]/g, '');
      if (!/[0-9]/.test(code) || !/^[0-9a-z]+$/.test(code) || code.length < MIN_CODE) return '';
      if ((size > 1 || code !== written) && items.every((item) => item.word === items[0].word)) {
        const chunks = this.analyser.word(draft.typed[items[0].word]);
        return chunks.some((chunk) => chunk.joined.includes(code)) ? code : '';
      }
      const fits = items.every(({ token }) => {
        if (token.kind === 'word') return token.raw.length <= SHORT_LETTERS && !lists.knows(token.term);
        return token.kind === 'number' || token.kind === 'code';
      });
      return fits ? code : '';
    }

    codeTerms(code, lists) {
      const found = this.exactly(code, lists, this.tables.WEIGHT_WORD);
      return found.size ? found : this.beginningWith(code, lists);
    }

    // The term itself, and as the name of a plate.
    exactly(term, lists, weight) {
      const found = [term, `${term}@`].filter((there) => lists.find(there));
      return new Map(found.map((there) => [there, weight]));
    }

    // The commonest of the terms that begin with `prefix`.
    beginningWith(prefix, lists) {
      const rated = [];
      lists.beginningWith(prefix, this.tables.MAX_PREFIX_TERMS).forEach((term, order) => {
        const found = lists.find(term);
        if (found) rated.push({ idf: found.idf, order, term });
      });
      rated.sort((a, b) => a.idf - b.idf || a.order - b.order);
      return new Map(rated.slice(0, this.tables.MAX_PREFIX_USED).map(({ term }) => [term, this.tables.WEIGHT_PREFIX]));
    }

    // A number and its unit as a figure, in whatever unit the book has it; a decimal without a unit as a length.
    lookUpFigures({ items, alternatives, coded }, lists) {
      items.forEach(({ token }, index) => {
        if (token.kind !== 'number' || coded[index]) return;
        const after = items[index + 1];
        const unit = after && after.token.kind === 'unit' ? after.token.term : '';
        const units = unit ? [unit] : token.term.includes('.') ? this.tables.BARE_UNITS : [];
        const terms = [].concat(...units.map((there) => this.figureTerms(token.term, there)));
        terms.filter((term) => lists.find(term)).forEach((term) => {
          alternatives[index].set(term, this.tables.WEIGHT_WORD);
          if (unit) alternatives[index + 1].set(term, this.tables.WEIGHT_WORD);
        });
      });
    }

    // As in shearpin/search/figures.py: a dimension and two digits of the value, and of values next to it.
    figureTerms(number, unit) {
      const { FIGURE_UNITS, FIGURES_NEAR, FIGURE_NUDGE } = this.tables;
      const [over, under] = number.split('/');
      if (!FIGURE_UNITS[unit] || (under && !Number(under))) return [];
      const [dimension, factor] = FIGURE_UNITS[unit];
      const value = (Number(over) / Number(under || '1')) * factor;
      if (!value) return [];
      const term = (near) => {
        const [digits, power] = (value * near * FIGURE_NUDGE).toExponential(1).split('e');
        return `${dimension}#${digits.replace('.', '')}e${Number(power)}`;
      };
      return Array.from(new Set(FIGURES_NEAR.map(term)));
    }

    // Note synonyms; return known misspellings as what to write in the place of which item.
    lookUpPhrases(draft, lists) {
      const { items } = draft;
      const corrections = new Map();
      let covered = 0;
      items.forEach((item, start) => {
        const stands = (phrase) => phrase.terms.every((term, i) => {
          const { token } = items[start + i] || { token: {} };
          return phrase.preferred ? token.raw === phrase.raws[i] : token.term === term;
        });
        const matches = lists.phrases(item.token.term).filter(stands);
        const size = Math.max(0, ...matches.map((phrase) => phrase.terms.length));
        if (size < 2) this.lookUpApart(draft, lists, start);
        if (start + size <= covered) return;
        matches.filter((phrase) => phrase.terms.length === size).forEach((phrase) => {
          const span = phrase.terms.map((_, i) => start + i);
          if (!phrase.preferred) {
            span.forEach((index) => {
              draft.alternatives[index].set(phrase.concept, this.tables.WEIGHT_SYNONYM);
              draft.inPhrase[index] = draft.inPhrase[index] || size > 1;
            });
          } else {
            span.forEach((index) => corrections.set(index, ''));
            corrections.set(start, phrase.preferred);
          }
        });
        if (size > 1) covered = start + size;
      });
      return corrections;
    }

    // Note a synonym of two words that has others between them: "take the wheel off".
    lookUpApart({ items, alternatives }, lists, start) {
      const { APART, MAX_APART, WEIGHT_SYNONYM } = this.tables;
      for (let place = start + 2; place <= start + MAX_APART && place < items.length; place += 1) {
        const { term } = items[place].token;
        const there = APART.includes(term) ? lists.phrases(items[start].token.term) : [];
        there.filter((phrase) => !phrase.preferred && phrase.terms.length === 2 && phrase.terms[1] === term).forEach((phrase) => {
          [start, place].forEach((index) => alternatives[index].set(phrase.concept, WEIGHT_SYNONYM));
        });
      }
    }

    // Neighbouring words that the book has as one word, or the other way round.
    lookUpJoined(draft, lists) {
      for (let index = 0; index + 1 < draft.items.length; index += 1) {
        const pair = this.analyser.pair(draft.items[index].token, draft.items[index + 1].token);
        if (pair && lists.find(pair)) {
          [index, index + 1].forEach((there) => {
            const found = draft.alternatives[there];
            if (!found.has(pair)) found.set(pair, this.tables.WEIGHT_JOINED);
          });
        }
      }
    }

    // Look up each word by itself; return which are unknown.
    lookUpWords(draft, lists) {
      const unknown = [];
      const last = draft.items.length - 1;
      draft.items.forEach(({ token }, index) => {
        const found = draft.alternatives[index];
        if (draft.coded[index]) return;
        const { WEIGHT_IN_PHRASE, WEIGHT_WORD } = this.tables;
        const exactly = this.exactly(token.term, lists, draft.inPhrase[index] ? WEIGHT_IN_PHRASE : WEIGHT_WORD);
        exactly.forEach((weight, term) => found.set(term, weight));
        if (!exactly.size && !found.size && !lists.knows(token.term) && lists.complete()) {
          const typing = index === last && token.kind === 'word';
          if ((typing || token.kind === 'number' || token.kind === 'code') && token.raw.length >= this.tables.MIN_PREFIX) {
            this.beginningWith(token.raw, lists).forEach((weight, term) => found.set(term, weight));
          }
          if (!found.size) unknown.push(index);
        }
      });
      return unknown;
    }

    // The likeliest word for each unknown one; of about equally likely ones, that which the book has near the others.
    // A word that has a term of the book by accident is corrected only to one that fits the others where that term does not,
    // an everyday word only to one that fits them.
    respell(draft, lists, unknown, byAccident) {
      const better = new Map();
      const terms = draft.items.map((item) => item.token.term);
      draft.items.forEach(({ token }, index) => {
        const accident = byAccident[index];
        if (accident ? this.places(terms, index, token.term, lists) : !unknown.includes(index)) return;
        const found = token.kind === 'word' ? this.spelling.candidates(token.raw, lists) : [];
        const doubtful = accident || (token.kind === 'word' && lists.isOrdinary(token.raw));
        const rated = [];
        found.forEach(({ rating, word }) => {
          const near = doubtful || found.length > 1 ? this.places(terms, index, this.analyser.stem(word), lists) : 0;
          if (near || !doubtful) rated.push({ rating: rating - this.tables.CONTEXT_BONUS * near, word });
        });
        rated.sort((a, b) => a.rating - b.rating || before(a.word, b.word));
        if (rated.length) better.set(index, rated[0].word);
      });
      return better;
    }

    // Whether a word that is none of the book's has the stem of one all the same, as "hange" has that of "hang".
    stemsByAccident({ items, alternatives }, lists, index) {
      const { token } = items[index];
      if (token.kind !== 'word' || token.raw.length < MIN_ACCIDENT || token.raw !== `${token.term}e`) return false;
      const words = lists.words(token.raw.length);
      const found = alternatives[index];
      return found.size === 1 && found.has(token.term) && !words.some(({ word }) => word === token.raw);
    }

    // How many of the words around it the book has near `term`, or in one synonym with it, were it at `index`.
    places(terms, index, term, lists) {
      const withIt = meanings(terms.map((there, i) => (i === index ? term : there)), lists);
      const without = meanings(terms.map((there, i) => (i === index ? NO_TERM : there)), lists);
      const others = nearPairs(without);
      const pairs = nearPairs(withIt).filter((pair) => !others.includes(pair) && lists.find(pair));
      return without.length - withIt.length + pairs.length;
    }

    // The query with its corrections; a word of several parts is taken apart when one of them is corrected.
    rewrite(typed, items, corrections) {
      const touched = new Set(Array.from(corrections.keys(), (index) => items[index].word));
      const words = [];
      typed.forEach((text, number) => {
        if (!touched.has(number)) {
          words.push(text);
          return;
        }
        items.forEach((item, index) => {
          if (item.word === number) words.push(corrections.has(index) ? corrections.get(index) : item.token.raw);
        });
      });
      return words.filter((word) => word !== '').join(' ');
    }

    // What the words may match, each once; weak words with a small part of their weight.
    units(draft, intent) {
      const units = new Map();
      draft.alternatives.forEach((found, index) => {
        if (!found.size) return;
        const weak = !draft.coded[index] && this.isWeak(draft.items, index, intent);
        const share = weak ? this.tables.WEAK_SHARE : 8;
        const matches = Array.from(found, ([term, weight]) => [term, Math.max(1, Math.floor((weight * share) / 8))]);
        matches.sort((a, b) => before(a[0], b[0]));
        const key = JSON.stringify(matches);
        if (!units.has(key)) units.set(key, { matches, weak });
      });
      return Array.from(units.values());
    }

    // "new carb for E208" is the line "carb": what only asks and what names a plate belongs to no line.
    line(items, lists, intent) {
      const terms = items.map((item) => item.token.term);
      const whole = lineKey(meanings(terms, lists));
      // Where not all is read yet, the query is planned again.
      if (!whole || lists.find(whole) || !lists.complete()) return whole;
      const telling = terms.filter((term, index) => !this.isWeak(items, index, intent) && !lists.find(`${term}@`));
      return lineKey(meanings(telling, lists));
    }

    isWeak(items, index, intent) {
      const rawAt = (place) => (items[place] ? items[place].token.raw : '');
      const raw = rawAt(index);
      const pairs = [`${rawAt(index - 1)}-${raw}`, `${raw}-${rawAt(index + 1)}`];
      const asking = this.tables.ASKING_WORDS[intent] || [];
      return this.weakWords.has(raw) || asking.includes(raw) || pairs.some((pair) => this.weakPairs.has(pair));
    }

    intentOf(items, typed, codes) {
      const { tables, intentWords } = this;
      const words = [].concat(...items.map(({ token }) => [token.raw, token.term]));
      const asked = new Set();
      intentWords.forEach((known, intent) => {
        if (words.some((word) => known.has(word))) asked.add(intent);
      });
      const pairs = typed.slice(1).map((word, i) => `${typed[i]}-${word}`.toLowerCase());
      const begins = pairs[0] || '';
      const says = (known) => pairs.some((pair) => known.includes(pair));
      if (says(tables.WANTS_TEST)) return 'test';
      if (says(tables.WANTS_TOOL)) return 'tool';
      const begin = (typed[0] || '').toLowerCase();
      if (codes || asked.has('part') || tables.PART_FIRST.includes(begin) || says(tables.WANTS_PART)) return 'part';
      if (tables.CAUSE_FIRST.includes(begin) || says(tables.WANTS_CAUSE)) return 'cause';
      if (says(tables.HOW_MUCH)) return 'value';
      if (tables.WHERE_IS.includes(begins) || begins === tables.HOW_IT_WORKS) return 'theory';
      const apart = typed.slice(1).some((word) => tables.DONE_APART.includes(`${typed[0]}-${word}`.toLowerCase()));
      if (says(tables.HOW_TO) || apart) {
        asked.add(asked.has('test') ? 'test' : 'do');
      } else if (items.some(({ token }) => token.kind === 'not')) {
        return intentWords.get('do').has(items[0].token.raw) ? 'do' : 'complaint';
      } else if (tables.DO_FIRST.includes(begin)) {
        asked.add('do');
      }
      if (asked.has('do')) return asked.has('value') ? 'do-value' : 'do';
      const other = ['value', 'test', 'theory'].find((intent) => asked.has(intent));
      if (!other && tables.WHETHER.includes(begins)) return 'test';
      return other || (tables.WHAT_IS.includes(begins) ? 'theory' : 'complaint');
    }
  }

  Object.assign(window.shearpinSearchParts, { Planner });
})();
