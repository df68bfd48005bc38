/* From what is looked up to hits in order, as in shearpin/search/ranking.py: whole numbers only. */
(() => {
  'use strict';

  const { Analyser, Lists, split, Planner, EVERYBODYS, OWN, OTHERS } = window.shearpinSearchParts;
  // 256ths: a factor that changes nothing.
  const SAME = 256;
  // The score of a record that was not found; one that was found may have 0.
  const NONE = -1;

  class Ranking {
    constructor(head, files) {
      this.tables = head.tables;
      this.lists = new Lists(head, files);
      this.planner = new Planner(head.tables, new Analyser(head.tables));
      this.planned = null;
      this.rank = new Map(head.tables.KIND_ORDER.map((kind, number) => [kind, number]));
    }

    // What the words are looked up as. Reads whatever that takes, and what says which records fit the machine.
    * plan(query, machine, literal) {
      const { lists } = this;
      const known = this.planned;
      if (known && known.query === query && known.literal === literal) return known.plan;
      let plan = null;
      let planned = false;
      const words = this.planner.readItems(split(query)).map(({ token }) => token.term);
      yield* this.whole(() => {
        if (!planned) plan = this.planner.plan(query, lists, literal);
        if (!plan) return;
        planned = planned || lists.complete();
        plan.units.forEach((unit) => unit.matches.forEach(([term]) => lists.find(term)));
        plan.pairs.concat(plan.line || []).forEach((term) => lists.find(term));
        this.fit(plan, machine);
      }, words);
      this.planned = { query, literal, plan };
      return plan;
    }

    // Does what reads the index, once more after each yield of the files that were not there. The files, and the lists of
    // `words`, are taken apart one by one, for that takes long.
    * whole(work, words = []) {
      const { lists } = this;
      for (;;) {
        lists.wanted.clear();
        work();
        if (lists.complete()) return;
        const names = Array.from(lists.wanted);
        yield names;
        for (const name of names) {
          lists.unpack(name);
          yield null;
        }
        for (const word of words) {
          lists.find(word);
          yield null;
        }
      }
    }

    // Returns the result. Yields names of files that have to be read before it goes on, or null where the page may do
    // something else first. `kinds` leaves records of these kinds only, none leaves all; `fitting` those that fit the machine.
    * search(query, machine, limit, literal, kinds = [], fitting = false) {
      const { lists } = this;
      const plan = yield* this.plan(query, machine, literal);
      yield null;
      const { scores, named, sure } = yield* this.score(plan);
      let fit = null;
      yield* this.whole(() => { fit = this.fit(plan, machine); });
      yield null;
      const { total, answers } = this.sift(scores, { fit, named, kinds, fitting: fitting && machine });
      const ordered = this.inOrder(scores, limit + answers);
      const fits = (record) => !machine || !fit || fit.places[record] !== OTHERS;
      let hits = null;
      const shown = (record) => this.shownOf(record, fit, named);
      yield* this.whole(() => { hits = this.bestHits(ordered, scores, limit, fits, shown); });
      yield null;
      let nearest = [];
      if (!hits.length && plan.unknown.length) {
        const longest = plan.unknown.reduce((a, b) => (b.length > a.length ? b : a));
        yield* this.whole(() => { nearest = this.planner.spelling.nearest(longest, lists); });
      }
      const terms = [].concat(...plan.units.map((unit) => unit.matches.map(([term]) => term)));
      const asked = (plan.intent === 'value' || plan.intent === 'do-value') && !plan.unknown.length;
      let answer = null;
      if (hits.length && asked && hits[0].kind === 'value' && sure(hits.first)) {
        yield* this.whole(() => { answer = this.valueAnswer(hits, shown(hits.first), fit); });
      }
      return { query, corrected: plan.corrected, answer, hits, total, nearest, terms };
    }

    // Weigh the machine and take out what is not wanted; return how many records are left and how many answers.
    sift(scores, { fit, named, kinds, fitting }) {
      const { lists } = this;
      const { FACTOR_OWN_MACHINE, FACTOR_OTHER_MACHINE } = this.tables;
      const factors = [];
      factors[EVERYBODYS] = 16;
      factors[OWN] = FACTOR_OWN_MACHINE;
      factors[OTHERS] = FACTOR_OTHER_MACHINE;
      const left = { total: 0, answers: 0 };
      for (let record = 0; record < scores.length; record += 1) {
        if (scores[record] !== NONE) {
          const place = fit ? fit.places[record] : EVERYBODYS;
          const isAnswer = lists.isAnswer(record);
          // An answer for some plates only is wanted for the chosen machine, or where the query names its plate.
          const refused = isAnswer && (fit ? place !== OWN : !named.has(record));
          const unwanted = refused || (kinds.length && !kinds.includes(lists.kind(record))) || (fitting && place === OTHERS);
          scores[record] = unwanted ? NONE : Math.floor((scores[record] * factors[place]) / 16);
          if (!unwanted) left[isAnswer ? 'answers' : 'total'] += 1;
        }
      }
      return left;
    }

    // What fits the machine; without one, see `fitOfNamed`.
    fit(plan, machine) {
      return machine ? this.lists.fit(machine) : this.fitOfNamed(plan);
    }

    // What fits the machine whose model number the query says; null when it says none, or that of several.
    fitOfNamed(plan) {
      const { lists } = this;
      const named = new Set();
      plan.units.forEach((unit) => unit.matches.filter(([term]) => term.endsWith('@')).forEach(([term]) => {
        const found = lists.find(term.replace(/@+$/, ''));
        if (!found) return;
        found.records.forEach((record, i) => {
          if (found.codes[i] >= this.tables.STRONG_CODE && lists.kind(record) === 'machine') named.add(record);
        });
      }));
      if (named.size !== 1) return null;
      const card = lists.card(Array.from(named)[0]);
      return card ? lists.fit(card.id) : lists.fitAhead();
    }

    // The answers for some plates only of a record: they follow it.
    answersOf(record) {
      const answers = [];
      for (let next = record + 1; next < this.lists.total() && this.lists.isAnswer(next); next += 1) answers.push(next);
      return answers;
    }

    // The document whose words a hit shows: of a record with answers, the one for the machine, unless the query names another plate.
    shownOf(record, fit, named) {
      if (!fit || this.lists.isAnswer(record)) return record;
      const answers = this.answersOf(record);
      const own = answers.find((answer) => fit.places[answer] === OWN);
      const wanted = named.has(own) || !answers.some((answer) => named.has(answer));
      return own !== undefined && wanted ? own : record;
    }

    // The first hit as an answer: a line for each figure where no machine is known, null where none is for the machine.
    valueAnswer(hits, shown, fit) {
      const { lists } = this;
      if (fit && fit.places[hits.first] === OTHERS) return null;
      const answers = lists.isAnswer(shown) ? [] : this.answersOf(shown);
      const [{ title, excerpt }] = hits;
      if (!answers.length) return `${title}: ${excerpt}`;
      if (fit) return null;
      const start = `${title}, `;
      const cards = answers.map((answer) => lists.card(answer) || { title: '' });
      const lines = cards.map((card) => `${card.title.startsWith(start) ? card.title.slice(start.length) : card.title}: ${card.excerpt}`);
      return [`${title}:`, ...lines].join('\n');
    }

    // Of several documents of one record the best is its hit. `first` is the number of the first.
    bestHits(ordered, scores, limit, fits, shown) {
      const { lists } = this;
      const hits = new Map();
      let first = null;
      for (const record of ordered) {
        if (hits.size >= limit) break;
        if (first === null) first = record;
        const kind = lists.kind(record);
        const card = lists.card(shown(record)) || { id: `file of record ${record}` };
        const id = card.id.split('@')[0];
        const { title, url, excerpt } = card;
        const key = `${kind} ${id}`;
        if (!hits.has(key)) hits.set(key, { id, kind, title, url, score: scores[record], excerpt, fits: fits(record) });
      }
      if (!lists.complete()) this.askAhead(ordered, limit, shown);
      return Object.assign(Array.from(hits.values()), { first });
    }

    // An answer often stands beside the document that it answers for, and both are one hit: so some that follow are sent for too.
    askAhead(ordered, limit, shown) {
      let expected = 0;
      for (const record of ordered) {
        if (expected >= limit) break;
        this.lists.card(shown(record));
        expected += this.lists.isAnswer(record) ? 0.5 : 1;
      }
    }

    * score(plan) {
      const { tables, lists } = this;
      const tally = {
        sums: new Float64Array(lists.total()),
        weights: new Float64Array(lists.total()),
        strong: new Uint8Array(lists.total()),
        best: new Float64Array(lists.total()),
        strongHere: new Uint8Array(lists.total()),
        named: new Set(),
      };
      let total = 0;
      let units = 0;
      for (const unit of plan.units) {
        const weight = this.addUnit(unit, tally);
        total += weight;
        units += weight > 0 && !unit.weak ? 1 : 0;
        yield null;
      }
      plan.pairs.forEach((pair) => this.addWhole(pair, tables.WEIGHT_PAIR, tally));
      if (plan.line) this.addWhole(plan.line, tables.WEIGHT_LINE, tally);
      const factors = lists.kindNames.map((kind) => (plan.factors.has(kind) ? plan.factors.get(kind) : SAME));
      const { sums, weights, strong } = tally;
      const scores = new Float64Array(sums.length).fill(NONE);
      for (let record = 0; record < sums.length; record += 1) {
        if (sums[record]) {
          let points = Math.floor((sums[record] * weights[record]) / total);
          if (strong[record] === units) points = Math.floor((points * tables.FACTOR_ALL_STRONG) / 16);
          scores[record] = Math.floor((points * factors[lists.kindNumbers[record]]) / SAME) + 1;
        }
      }
      const sure = (record) => units > 0 && strong[record] === units;
      return { scores, named: tally.named, sure };
    }

    // Add the best match of the unit in each record; return the weight of the unit in the query.
    addUnit(unit, tally) {
      const { LEVELS } = this.tables;
      const { sums, weights, strong, best, strongHere } = tally;
      const touched = [];
      let heaviest = null;
      unit.matches.forEach(([term, weight]) => {
        const found = this.lists.find(term);
        if (!found) return;
        if (!heaviest || weight > heaviest.weight || (weight === heaviest.weight && found.idf > heaviest.idf)) {
          heaviest = { weight, idf: found.idf };
        }
        this.addMatch(found, weight * found.idf, unit.weak, tally, touched);
        if (term.endsWith('@')) found.records.forEach((record) => tally.named.add(record));
      });
      if (!heaviest) return 0;
      const share = heaviest.weight * heaviest.idf;
      const mentioned = unit.weak ? share : Math.floor((share * this.tables.SHARE_MENTIONED) / 16);
      for (let i = 0; i < touched.length; i += 1) {
        const record = touched[i];
        const impact = strongHere[record];
        sums[record] += best[record];
        weights[record] += impact ? Math.floor((share * impact) / LEVELS) : mentioned;
        strong[record] += impact ? 1 : 0;
        best[record] = 0;
        strongHere[record] = 0;
      }
      return share;
    }

    // Note the better match of each record, and which records have their first.
    addMatch({ records, codes }, weight, weak, { best, strongHere }, touched) {
      const { POINTS, STRONG_CODE } = this.tables;
      const leastStrong = weak ? Infinity : STRONG_CODE;
      for (let i = 0; i < records.length; i += 1) {
        const record = records[i];
        const impact = POINTS[codes[i]];
        const points = weight * impact;
        if (points > best[record]) {
          if (!best[record]) touched.push(record);
          best[record] = points;
        }
        if (codes[i] >= leastStrong && impact > strongHere[record]) strongHere[record] = impact;
      }
    }

    // Add the match of a term beside the units, to records that match one of them.
    addWhole(term, weight, { sums }) {
      const found = this.lists.find(term);
      if (!found) return;
      found.records.forEach((record, i) => {
        if (sums[record]) sums[record] += weight * found.idf * this.tables.POINTS[found.codes[i]];
      });
    }

    // The first `wanted` records and those that tie with the last of them, in order.
    inOrder(scores, wanted) {
      const { lists } = this;
      const ranks = lists.kindNames.map((kind) => (this.rank.has(kind) ? this.rank.get(kind) : this.rank.size));
      const ordered = scores.slice().sort();
      const least = Math.max(0, ordered[Math.max(0, ordered.length - wanted)]);
      const byKind = (a, b) => {
        const [left, right] = [lists.kindNumbers[a], lists.kindNumbers[b]];
        const [leftName, rightName] = [lists.kindNames[left], lists.kindNames[right]];
        return ranks[left] - ranks[right] || (leftName < rightName ? -1 : leftName > rightName ? 1 : 0);
      };
      const first = [];
      for (let record = 0; record < scores.length; record += 1) if (scores[record] >= least) first.push(record);
      return first.sort((a, b) => scores[b] - scores[a] || byKind(a, b) || a - b);
    }
  }

  Object.assign(window.shearpinSearchParts, { Ranking });
})();
