/* From what is looked up to hits in order, as in shearpin/search/ranking.py: whole numbers only. */
(() => {
  'use strict';

  const { Analyser, Lists, Planner } = window.shearpinSearchParts;

  class Ranking {
    constructor(head, files) {
      this.tables = head.tables;
      this.lists = new Lists(head, files);
      this.planner = new Planner(head.tables, new Analyser(head.tables));
      this.rank = new Map(head.tables.KIND_ORDER.map((kind, number) => [kind, number]));
    }

    // The result, or null when the files that `wanted()` names have to be read first.
    search(query, machine, limit, literal) {
      const { lists } = this;
      lists.wanted.clear();
      const plan = this.planner.plan(query, lists, literal);
      if (!plan) return null;
      const scores = this.score(plan);
      const fit = machine ? lists.fit(machine) : null;
      if (!lists.complete()) return null;
      const fits = this.applyMachine(scores, fit);
      const hits = this.bestHits(scores, limit, fits);
      let nearest = [];
      if (!scores.size && plan.unknown.length) {
        const longest = plan.unknown.reduce((a, b) => (b.length > a.length ? b : a));
        nearest = this.planner.spelling.nearest(longest, lists);
      }
      if (!lists.complete()) return null;
      const total = Array.from(scores.keys()).filter((record) => !lists.markedKind(record).endsWith('@')).length;
      const terms = [].concat(...plan.units.map((unit) => unit.map(([term]) => term)));
      return { query, corrected: plan.corrected, hits, total, nearest, terms };
    }

    // Of several documents of one record the best is its hit.
    bestHits(scores, limit, fits) {
      const hits = new Map();
      for (const record of this.inOrder(scores)) {
        if (hits.size >= limit) break;
        const kind = this.lists.kind(record);
        const card = this.lists.card(record) || { id: `file of record ${record}` };
        const id = card.id.split('@')[0];
        const { title, url, excerpt } = card;
        const key = `${kind} ${id}`;
        if (!hits.has(key)) hits.set(key, { id, kind, title, url, score: scores.get(record), excerpt, fits: fits(record) });
      }
      return Array.from(hits.values());
    }

    wanted() {
      return Array.from(this.lists.wanted);
    }

    score(plan) {
      const { tables, lists } = this;
      const sums = new Map();
      const weights = new Map();
      const strong = new Map();
      let total = 0;
      let units = 0;
      plan.units.forEach((unit) => {
        const weight = this.addUnit(unit, sums, weights, strong);
        total += weight;
        units += weight > 0 ? 1 : 0;
      });
      plan.pairs.forEach((pair) => {
        const found = lists.find(pair);
        if (!found) return;
        found.records.forEach((record, i) => {
          sums.set(record, sums.get(record) + tables.WEIGHT_PAIR * found.idf * tables.POINTS[found.codes[i]]);
        });
      });
      const line = plan.line ? lists.find(plan.line) : null;
      if (line) {
        line.records.forEach((record, i) => {
          if (!sums.has(record)) return;
          sums.set(record, sums.get(record) + tables.WEIGHT_LINE * line.idf * tables.POINTS[line.codes[i]]);
        });
      }
      const factors = tables.KIND_FACTORS[plan.intent];
      const scores = new Map();
      sums.forEach((sum, record) => {
        const matched = weights.get(record);
        let points = Math.floor((sum * matched * matched) / (total * total));
        if (strong.get(record) === units) points = Math.floor((points * tables.FACTOR_ALL_STRONG) / 16);
        const place = this.rank.get(lists.kind(record));
        scores.set(record, Math.floor((points * (place === undefined ? 16 : factors[place])) / 16) + 1);
      });
      return scores;
    }

    // Add the best match of the unit in each record; return the weight of the unit in the query.
    addUnit(unit, sums, weights, strong) {
      const { POINTS, STRONG_CODE } = this.tables;
      const best = new Map();
      const strongHere = new Set();
      let heaviest = null;
      unit.forEach(([term, weight]) => {
        const found = this.lists.find(term);
        if (!found) return;
        if (!heaviest || weight > heaviest.weight || (weight === heaviest.weight && found.idf > heaviest.idf)) {
          heaviest = { weight, idf: found.idf };
        }
        found.records.forEach((record, i) => {
          const points = weight * found.idf * POINTS[found.codes[i]];
          if (points > (best.get(record) || 0)) best.set(record, points);
          if (found.codes[i] >= STRONG_CODE) strongHere.add(record);
        });
      });
      if (!heaviest) return 0;
      const add = (tally, record, amount) => tally.set(record, (tally.get(record) || 0) + amount);
      best.forEach((points, record) => {
        add(sums, record, points);
        add(weights, record, heaviest.idf);
      });
      strongHere.forEach((record) => add(strong, record, 1));
      return heaviest.idf;
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

    inOrder(scores) {
      const { rank, lists } = this;
      const rankOf = (record) => {
        const place = rank.get(lists.kind(record));
        return place === undefined ? rank.size : place;
      };
      const byKind = (a, b) => {
        const [left, right] = [lists.kind(a), lists.kind(b)];
        return rankOf(a) - rankOf(b) || (left < right ? -1 : left > right ? 1 : 0);
      };
      return Array.from(scores.keys()).sort((a, b) => scores.get(b) - scores.get(a) || byKind(a, b) || a - b);
    }
  }

  Object.assign(window.shearpinSearchParts, { Ranking });
})();
