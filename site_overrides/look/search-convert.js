/* A question for a conversion, answered as shearpin/search/conversion.py does: "24 Nm in ft lb", "-25 C in F". Read only
   when a query looks like one, with calculators-reading.js, which reads quantities, and the index's table of units. */
(() => {
  'use strict';

  const bench = window.shearpinBench;
  const ASKED = /^ *(?:convert|what is|what's|whats|how much is|(how many)) +/i;
  const SOURCE_DIGITS = 10;

  const asRecords = (text) => text.trim()
    .replace(/(^|[ 0-9])nm$/i, '$1N·m')
    .replace(/(^|[ 0-9.]|deg )([cf])$/i, (_, before, letter) => before + letter.toUpperCase());

  class Converter {
    constructor(units, between) {
      this.kinds = units.kinds;
      this.between = between;
      this.units = units;
    }

    answer(query) {
      bench.useTables(this.units);
      const asked = ASKED.exec(query);
      const text = (asked ? query.slice(asked[0].length) : query).replace(/[? ]+$/, '');
      for (const [from, to] of this.splits(text)) {
        const [left, right] = [text.slice(0, from), text.slice(to)];
        const answer = this.inAnyOunces(left, right) || (asked && asked[1] ? this.inAnyOunces(right, left) : null);
        if (answer) return answer;
      }
      return null;
    }

    // Every word between that may divide the quantity from the unit: in "3 in in mm" it is the second.
    splits(text) {
      const found = [];
      const pattern = new RegExp(this.between.source, 'gi');
      for (let match = pattern.exec(text); match; match = pattern.exec(text)) {
        found.push([match.index, match.index + match[0].length]);
        pattern.lastIndex = match.index + 1;
      }
      return found;
    }

    // Ounces are a mass, and where that does not do, a volume.
    inAnyOunces(written, unit) {
      const [from, to] = [written, unit].map((text) => text.replace(/(^|[ 0-9])(?:oz|ounces?)$/i, '$1fl oz'));
      return this.converted(written, unit) || (from !== written || to !== unit ? this.converted(from, to) : null);
    }

    converted(written, unit) {
      for (const kind of this.kinds) {
        try {
          const target = bench.parseQuantity(`1 ${asRecords(unit)}`, kind);
          return this.sentence(bench.parseQuantity(asRecords(written), kind), target.unit);
        } catch (error) {
          if (!error.refusal) throw error;
        }
      }
      return null;
    }

    sentence({ unit, low, high, nominal }, target) {
      if (!low || !high) return null;
      const one = nominal && bench.exact.number(low) === bench.exact.number(high);
      const values = one ? [nominal] : [low, high];
      const given = values.map((value) => bench.withUnit(bench.exact.number(value), unit.symbol, SOURCE_DIGITS));
      const found = values.map((value) => bench.withUnit(bench.exact.number(bench.converted(value, unit, target)), target.symbol));
      return `${given.join(' to ')} = ${found.join(' to ')}`;
    }
  }

  window.shearpinSearchParts.Converter = Converter;
})();
