/* From what is looked up to hits in order, as in shearpin/search/ranking.py: whole numbers only. */
(() => {
  'use strict';

  const { Analyser, Lists, Planner } = window.shearpinSearchParts;
  // 256ths: a factor that changes nothing.
  const SAME = 256;

  class Ranking {
    constructor(head, files) {
      this.tables = head.tables;
      this.lists = new Lists(head, files);
      this.planner = new Planner(head.tables, new Analyser(head.tables));
      this.rank = new Map(head.tables.KIND_ORDER.map((kind, number) => [kind, number]));
    }

    // The result, or null when the files that `wanted()` names have to be read first.
    // `kinds` leaves records of these kinds only, none leaves all; `fitting` those that fit the machine.
    search(query, machine, limit, literal, kinds = [], fitting = false) {
      const { lists } = this;
      lists.wanted.clear();
      const plan = this.planner.plan(query, lists, literal);
      if (!plan) return null;
      const { scores, named, sure } = this.score(plan);
      const fit = machine ? lists.fit(machine) : this.fitOfNamed(plan);
      if (!lists.complete()) return null;
      // An answer for some plates only is wanted for the chosen machine, or where the query names its plate.
      const mayAnswer = (record) => (fit ? fit.own.has(fit.sets[record]) : named.has(record));
      Array.from(scores.keys()).forEach((record) => {
        const unwanted = kinds.length && !kinds.includes(lists.kind(record));
        if (unwanted || (lists.isAnswer(record) && !mayAnswer(record))) scores.delete(record);
      });
      const fitsNamed = this.applyMachine(scores, fit);
      const fits = machine ? fitsNamed : () => true;
      if (fitting) Array.from(scores.keys()).forEach((record) => fits(record) || scores.delete(record));
      const hits = this.bestHits(scores, limit, fits);
      let nearest = [];
      if (!scores.size && plan.unknown.length) {
        const longest = plan.unknown.reduce((a, b) => (b.length > a.length ? b : a));
        nearest = this.planner.spelling.nearest(longest, lists);
      }
      if (!lists.complete()) return null;
      let total = 0;
      scores.forEach((_, record) => { total += lists.isAnswer(record) ? 0 : 1; });
      const terms = [].concat(...plan.units.map((unit) => unit.matches.map(([term]) => term)));
      const asked = (plan.intent === 'value' || plan.intent === 'do-value') && !plan.unknown.length;
      const [first] = hits;
      const answer = first && asked && first.kind === 'value' && sure(hits.first) ? `${first.title}: ${first.excerpt}` : null;
      return { query, corrected: plan.corrected, answer, hits, total, nearest, terms };
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
      const card = named.size === 1 ? lists.card(Array.from(named)[0]) : null;
      return card && lists.fit(card.id);
    }

    // Of several documents of one record the best is its hit. `first` is the number of the first.
    bestHits(scores, limit, fits) {
      const hits = new Map();
      let first = null;
      let answers = 0;
      scores.forEach((_, record) => { answers += this.lists.isAnswer(record) ? 1 : 0; });
      for (const record of this.inOrder(scores, limit + answers)) {
        if (hits.size >= limit) break;
        if (first === null) first = record;
        const kind = this.lists.kind(record);
        const card = this.lists.card(record) || { id: `file of record ${record}` };
        const id = card.id.split('@')[0];
        const { title, url, excerpt } = card;
        const key = `${kind} ${id}`;
        if (!hits.has(key)) hits.set(key, { id, kind, title, url, score: scores.get(record), excerpt, fits: fits(record) });
      }
      return Object.assign(Array.from(hits.values()), { first });
    }

    wanted() {
      return Array.from(this.lists.wanted);
    }

    score(plan) {
      const { tables, lists } = this;
      const tally = {
        sums: new Float64Array(lists.total()),
        weights: new Float64Array(lists.total()),
        strong: new Uint8Array(lists.total()),
        named: new Set(),
      };
      let total = 0;
      let units = 0;
      plan.units.forEach((unit) => {
        const weight = this.addUnit(unit, tally);
        total += weight;
        units += weight > 0 && !unit.weak ? 1 : 0;
      });
      plan.pairs.forEach((pair) => this.addWhole(pair, tables.WEIGHT_PAIR, tally));
      if (plan.line) this.addWhole(plan.line, tables.WEIGHT_LINE, tally);
      const factors = this.lists.kindNames.map((kind) => (plan.factors.has(kind) ? plan.factors.get(kind) : SAME));
      const scores = new Map();
      tally.sums.forEach((sum, record) => {
        if (!sum) return;
        const matched = tally.weights[record];
        let points = Math.floor((sum * matched) / total);
        if (tally.strong[record] === units) points = Math.floor((points * tables.FACTOR_ALL_STRONG) / 16);
        scores.set(record, Math.floor((points * factors[lists.kindNumbers[record]]) / SAME) + 1);
      });
      const sure = (record) => units > 0 && tally.strong[record] === units;
      return { scores, named: tally.named, sure };
    }

    // Add the best match of the unit in each record; return the weight of the unit in the query.
    addUnit(unit, { sums, weights, strong, named }) {
      const { LEVELS, POINTS, STRONG_CODE } = this.tables;
      const best = new Float64Array(sums.length);
      const strongHere = new Uint8Array(sums.length);
      let heaviest = null;
      unit.matches.forEach(([term, weight]) => {
        const found = this.lists.find(term);
        if (!found) return;
        if (!heaviest || weight > heaviest.weight || (weight === heaviest.weight && found.idf > heaviest.idf)) {
          heaviest = { weight, idf: found.idf };
        }
        found.records.forEach((record, i) => {
          const points = weight * found.idf * POINTS[found.codes[i]];
          if (points > best[record]) best[record] = points;
          if (found.codes[i] >= STRONG_CODE && !unit.weak) strongHere[record] = Math.max(strongHere[record], POINTS[found.codes[i]]);
          if (term.endsWith('@')) named.add(record);
        });
      });
      if (!heaviest) return 0;
      const share = heaviest.weight * heaviest.idf;
      const mentioned = unit.weak ? share : Math.floor((share * this.tables.SHARE_MENTIONED) / 16);
      best.forEach((points, record) => {
        if (!points) return;
        sums[record] += points;
        const impact = strongHere[record];
        weights[record] += impact && !unit.weak ? Math.floor((share * impact) / LEVELS) : mentioned;
        strong[record] += impact ? 1 : 0;
      });
      return share;
    }

    // Add the match of a term beside the units, to records that match one of them.
    addWhole(term, weight, { sums }) {
      const found = this.lists.find(term);
      if (!found) return;
      found.records.forEach((record, i) => {
        if (sums[record]) sums[record] += weight * found.idf * this.tables.POINTS[found.codes[i]];
      });
    }

    applyMachine(scores, fit) {
      if (!fit) return () => true;
      const { FACTOR_OWN_MACHINE: own, FACTOR_OTHER_MACHINE: other } = this.tables;
      const fits = (record) => fit.sets[record] === 0 || fit.own.has(fit.sets[record]);
      scores.forEach((points, record) => {
        const factor = fit.own.has(fit.sets[record]) ? own : fit.sets[record] === 0 ? 16 : other;
        scores.set(record, Math.floor((points * factor) / 16));
      });
      return fits;
    }

    // The first `wanted` records and those that tie with the last of them, in order.
    inOrder(scores, wanted) {
      const { lists } = this;
      const ranks = lists.kindNames.map((kind) => (this.rank.has(kind) ? this.rank.get(kind) : this.rank.size));
      const ordered = Float64Array.from(scores.values()).sort();
      const least = ordered.length > wanted ? ordered[ordered.length - wanted] : 0;
      const byKind = (a, b) => {
        const [left, right] = [lists.kindNumbers[a], lists.kindNumbers[b]];
        const [leftName, rightName] = [lists.kindNames[left], lists.kindNames[right]];
        return ranks[left] - ranks[right] || (leftName < rightName ? -1 : leftName > rightName ? 1 : 0);
      };
      const first = Array.from(scores.keys()).filter((record) => scores.get(record) >= least);
      return first.sort((a, b) => scores.get(b) - scores.get(a) || byKind(a, b) || a - b);
    }
  }

  Object.assign(window.shearpinSearchParts, { Ranking });
})();
