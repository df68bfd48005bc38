/* What kind of page the plain words of a query lean to, as in shearpin/search/leaning.py. */
(() => {
  'use strict';

  const MIN_ING = 5;
  const FEW = 3;
  const LENGTHS = [9, 6, 4, 3, 2, 1];
  const ZERO = 'm'.charCodeAt(0);
  const FIRST = 'A'.charCodeAt(0);
  const SAME = 256;

  const plainWords = (typed) => {
    const found = typed.join(' ').toLowerCase().replace(/['’`]/g, '').match(/[a-z0-9]+/g) || [];
    return found.map((word) => (/^[0-9]+$/.test(word) ? '#' : /[0-9]/.test(word) ? '@' : word));
  };

  const traits = (tables, typed, intent) => {
    const words = plainWords(typed);
    if (!words.length) return [];
    const first = words[0];
    const last = words[words.length - 1];
    const among = (group, word) => tables.LEANING_GROUPS[group].includes(word);
    const has = (group) => words.some((word) => among(group, word));
    const negated = has('not');
    const isSo = {
      ing: first.endsWith('ing') && first.length >= MIN_ING,
      not: negated,
      who: has('who'),
      whether: among('whether', first),
      question: among('question', first),
      the: among('the', first),
      where: !negated && intent !== 'do' && intent !== 'do-value' && has('where'),
      few: !negated && intent === 'complaint' && words.length <= FEW,
      part: !negated && among('part', last),
    };
    const found = words.concat(words.slice(1).map((word, i) => `${words[i]}_${word}`), `^${first}`, `${last}$`);
    found.push(`~${LENGTHS.find((length) => words.length >= length)}`, `~${intent}`);
    Object.keys(isSo).forEach((name) => { if (isSo[name]) found.push(`~${name}`); });
    return Array.from(new Set(found));
  };

  // Each trait with the kinds that it pushes, as a sign, and how far.
  let unpacked = null;
  const leaningsOf = (tables) => {
    if (!unpacked || unpacked.tables !== tables) {
      const rows = tables.LEANINGS.split(' ').map((row) => row.split('='));
      unpacked = { tables, pushes: new Map(rows) };
    }
    return unpacked.pushes;
  };

  // By what a kind's score is multiplied, in 256ths; a kind that is not among them has 256.
  const kindFactors = (tables, typed, intent) => {
    const leaning = tables.LEANING_KINDS.map(() => 0);
    traits(tables, typed, intent).forEach((trait) => {
      const pushes = leaningsOf(tables).get(trait) || '';
      for (let i = 0; i < pushes.length; i += 2) leaning[pushes.charCodeAt(i) - FIRST] += pushes.charCodeAt(i + 1) - ZERO;
    });
    const factors = new Map(tables.KIND_ORDER.map((kind, i) => [kind, tables.KIND_FACTORS[intent][i] * 16]));
    const most = Math.floor(tables.LEANING_FACTORS.length / 2);
    const words = Math.max(plainWords(typed).length, tables.MOST_LEANING_WORDS);
    tables.LEANING_KINDS.forEach((kind, i) => {
      const push = Math.floor((leaning[i] * tables.MOST_LEANING_WORDS) / words);
      const step = Math.max(-most, Math.min(most, push)) + most;
      factors.set(kind, Math.floor((factors.get(kind) * tables.LEANING_FACTORS[step]) / SAME));
    });
    return factors;
  };

  window.shearpinSearchParts = Object.assign(window.shearpinSearchParts || {}, { kindFactors });
})();
