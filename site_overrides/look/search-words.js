/* From text to index terms: the same analysis as shearpin/search/words.py, with the tables that the index brings along. */
(() => {
  'use strict';

  /* ---- Porter 2 stems (snowballstem.org, English) ------------------------------------------------------------------- */

  const VOWELS = 'aeiouy';
  const DOUBLES = new Set(['bb', 'dd', 'ff', 'gg', 'mm', 'nn', 'pp', 'rr', 'tt']);
  const WHOLE = new Map([
    ['skis', 'ski'], ['skies', 'sky'], ['dying', 'die'], ['lying', 'lie'], ['tying', 'tie'], ['idly', 'idl'],
    ['gently', 'gentl'], ['ugly', 'ugli'], ['early', 'earli'], ['only', 'onli'], ['singly', 'singl'], ['sky', 'sky'],
    ['news', 'news'], ['howe', 'howe'], ['atlas', 'atlas'], ['cosmos', 'cosmos'], ['bias', 'bias'], ['andes', 'andes'],
  ]);
  const KEPT = new Set(['inning', 'outing', 'canning', 'herring', 'earring', 'proceed', 'exceed', 'succeed']);
  const STEP_2 = [
    ['ization', 'ize'], ['ational', 'ate'], ['fulness', 'ful'], ['ousness', 'ous'], ['iveness', 'ive'],
    ['tional', 'tion'], ['biliti', 'ble'], ['lessli', 'less'], ['entli', 'ent'], ['ation', 'ate'], ['alism', 'al'],
    ['aliti', 'al'], ['ousli', 'ous'], ['iviti', 'ive'], ['fulli', 'ful'], ['enci', 'ence'], ['anci', 'ance'],
    ['abli', 'able'], ['izer', 'ize'], ['ator', 'ate'], ['alli', 'al'], ['bli', 'ble'], ['ogi', 'og', 'l'],
    ['li', '', 'cdeghkmnrt'],
  ];
  const STEP_3 = [
    ['ational', 'ate'], ['tional', 'tion'], ['alize', 'al'], ['icate', 'ic'], ['iciti', 'ic'], ['ative', '', 'r2'],
    ['ical', 'ic'], ['ness', ''], ['ful', ''],
  ];
  const STEP_4 = [
    'al', 'ance', 'ence', 'er', 'ic', 'able', 'ible', 'ant', 'ement', 'ment', 'ent', 'ism', 'ate', 'iti', 'ous', 'ive',
    'ize',
  ];

  const isVowel = (letter) => letter !== undefined && VOWELS.includes(letter);

  // Where the region after the first consonant that follows a vowel begins.
  const regionAfter = (word, start) => {
    let at = start;
    while (at < word.length && !isVowel(word[at])) at += 1;
    while (at < word.length && isVowel(word[at])) at += 1;
    return at < word.length ? at + 1 : word.length;
  };
  const firstRegion = (word) => {
    if (word.startsWith('gener') || word.startsWith('arsen')) return 5;
    return word.startsWith('commun') ? 6 : regionAfter(word, 0);
  };
  const endsShort = (word) => {
    const n = word.length;
    if (n === 2) return isVowel(word[0]) && !isVowel(word[1]);
    return n > 2 && !isVowel(word[n - 3]) && isVowel(word[n - 2]) && !isVowel(word[n - 1]) && !'wxY'.includes(word[n - 1]);
  };
  const hasVowel = (word) => /[aeiouy]/.test(word);
  const cut = (word, ending) => word.slice(0, word.length - ending.length);

  const step1a = (word) => {
    if (word.endsWith('sses')) return word.slice(0, -2);
    if (word.endsWith('ied') || word.endsWith('ies')) return word.slice(0, -3) + (word.length > 4 ? 'i' : 'ie');
    if (word.endsWith('us') || word.endsWith('ss')) return word;
    return word.endsWith('s') && /[aeiouy]./.test(word.slice(0, -1)) ? word.slice(0, -1) : word;
  };
  const step1b = (word, r1) => {
    if (word.endsWith('eedly')) return word.length - 5 >= r1 ? word.slice(0, -3) : word;
    if (word.endsWith('eed')) return word.length - 3 >= r1 ? word.slice(0, -1) : word;
    const ending = ['ed', 'edly', 'ing', 'ingly'].find((suffix) => word.endsWith(suffix));
    if (!ending || !hasVowel(cut(word, ending))) return word;
    const left = cut(word, ending);
    if (left.endsWith('at') || left.endsWith('bl') || left.endsWith('iz')) return `${left}e`;
    if (DOUBLES.has(left.slice(-2))) return left.slice(0, -1);
    return endsShort(left) && firstRegion(left) === left.length ? `${left}e` : left;
  };
  const step1c = (word) =>
    /[yY]$/.test(word) && word.length > 2 && !isVowel(word[word.length - 2]) ? `${word.slice(0, -1)}i` : word;
  const step2 = (word, r1) => {
    const rule = STEP_2.find(([ending]) => word.endsWith(ending));
    if (!rule || word.length - rule[0].length < r1) return word;
    const left = cut(word, rule[0]);
    return rule[2] && !rule[2].includes(left.slice(-1) || ' ') ? word : left + rule[1];
  };
  const step3 = (word, r1, r2) => {
    const rule = STEP_3.find(([ending]) => word.endsWith(ending));
    if (!rule) return word;
    const at = word.length - rule[0].length;
    return at < r1 || (rule[2] && at < r2) ? word : word.slice(0, at) + rule[1];
  };
  const step4 = (word, r2) => {
    const ending = STEP_4.find((suffix) => word.endsWith(suffix));
    if (ending) return word.length - ending.length >= r2 ? cut(word, ending) : word;
    return /[st]ion$/.test(word) && word.length - 3 >= r2 ? word.slice(0, -3) : word;
  };
  const step5 = (word, r1, r2) => {
    const at = word.length - 1;
    if (word.endsWith('l')) return at >= r2 && word[at - 1] === 'l' ? word.slice(0, -1) : word;
    if (!word.endsWith('e')) return word;
    return at >= r2 || (at >= r1 && !endsShort(word.slice(0, -1))) ? word.slice(0, -1) : word;
  };

  const porter2 = (typed) => {
    if (typed.length <= 2) return typed;
    if (WHOLE.has(typed)) return WHOLE.get(typed);
    let word = typed.replace(/^y/, 'Y').replace(/([aeiouy])y/g, '$1Y');
    const r1 = firstRegion(word);
    const r2 = regionAfter(word, r1);
    word = step1a(word);
    if (KEPT.has(word)) return word;
    word = step4(step3(step2(step1c(step1b(word, r1)), r1), r1, r2), r2);
    return step5(word, r1, r2).replace(/Y/g, 'y');
  };

  /* ---- words ---------------------------------------------------------------------------------------------------------- */

  const LETTERS = 'a-z\\u00df-\\u00f6\\u00f8-\\u02af\\u0370-\\u1fff\\u2c60-\\u2dff\\u3040-\\ud7ff';
  const SPACES = /[\t-\r\x1c-\x20\x85\xa0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000]+/;
  const CHUNK = new RegExp(`(?:\\.(?=[0-9]))?[${LETTERS}0-9]+(?:[-'./,·][${LETTERS}0-9]+)*`, 'g');
  const NUMBER_WITH_UNIT = new RegExp(`^([0-9]+(?:[.,][0-9]+)?|\\.[0-9]+|[0-9]+/[0-9]+)-?([${LETTERS}].*)$`);
  const BRITISH_S = /^([a-z]{5,})is(e|ed|es|er|ers|ing|ation|ations)$/;
  const SEPARATORS = /[-'./,·]/;
  const SAME = new Map([
    ['’', "'"], ['‘', "'"], ['ʼ', "'"], ['`', "'"], ['⁄', '/'], ['⋅', '·'], ['∙', '·'], ['ß', 'ss'], ['ς', 'σ'],
    ['‐', '-'], ['‑', '-'], ['‒', '-'], ['–', '-'], ['—', '-'], ['−', '-'],
  ]);
  const SAME_CHARACTER = /[’‘ʼ`⁄⋅∙ßς‐‑‒–—−]/g;

  const split = (text) => text.split(SPACES).filter((word) => word !== '');

  const fold = (text) => {
    let folded = text.toLowerCase();
    if (/[^\x00-\x7f]/.test(text)) {
      folded = text.replace(/([\u00bc-\u00be\u2150-\u215e])/g, ' $1').normalize('NFKD').toLowerCase();
      folded = folded.replace(/[\u0300-\u036f]/g, '');
    }
    return folded
      .replace(SAME_CHARACTER, (character) => SAME.get(character))
      .replace(/([0-9]) ?(?:"|″|′′|'')/g, '$1 inch ');
  };

  // Singular and American, as far as it takes to write two words as one.
  const base = (word, variants) => {
    const singular = word.length > 3 && word.endsWith('s') && !'sui'.includes(word[word.length - 2]);
    const plain = singular ? word.slice(0, -1) : word;
    return variants.get(plain) || plain;
  };

  class Analyser {
    constructor(tables) {
      const set = (name) => new Set(tables[name]);
      const map = (name) => new Map(Object.entries(tables[name]));
      this.limit = tables.MAX_CHUNK;
      this.notToken = { term: tables.NEGATION, raw: tables.NEGATION, kind: 'not' };
      this.stopWords = set('STOP_WORDS');
      this.negations = set('NEGATIONS');
      this.negationStems = set('NEGATION_STEMS');
      this.units = new Map();
      map('UNIT_SPELLINGS').forEach((spellings, unit) => {
        spellings.split(' ').forEach((spelling) => this.units.set(spelling, unit));
      });
      this.unitsAfterNumber = map('UNITS_AFTER_NUMBER');
      this.unitPairs = map('UNIT_PAIRS');
      this.spellings = map('SPELLING_VARIANTS');
      this.ownStems = map('OWN_STEMS');
      const pairEnds = new Set(Array.from(this.unitPairs.keys(), (pair) => pair.split(' ')[1]));
      this.context = new Set(['t', ...this.unitsAfterNumber.keys(), ...this.negations]);
      this.negationStems.forEach((stem) => this.context.add(`${stem}'t`));
      this.units.forEach((unit, spelling) => {
        if (pairEnds.has(unit)) this.context.add(spelling);
      });
      this.variants = new Map();
      this.variants = new Map(Array.from(this.spellings, ([from, to]) => [this.stem(from), this.stem(to)]));
    }

    stem(word) {
      if (this.ownStems.has(word)) return this.ownStems.get(word);
      const known = /^[a-z]+$/.test(word) ? porter2(word.replace(BRITISH_S, '$1iz$2')) : word;
      return this.variants.get(known) || known;
    }

    // Two neighbouring words as one term, equal to the term of the two written as one word.
    pair(first, second) {
      const joins = (token) => token.kind === 'word' || token.kind === 'not';
      if (!joins(first) || !joins(second) || first.raw.length === 1 || second.raw.length === 1) return null;
      return this.stem(base(first.raw, this.spellings) + base(second.raw, this.spellings));
    }

    // The chunks of what stands between two spaces: each with its tokens and its parts written as one.
    word(text) {
      const core = text.replace(/^[.,;:!?()[\]"]+|[.,;:!?()[\]"]+$/g, '');
      const found = /^[A-Za-z]+$/.test(core) ? [core.toLowerCase()] : fold(text).match(CHUNK) || [];
      return found.filter((chunk) => chunk.length <= this.limit).map((chunk) => this.parse(chunk));
    }

    parse(text) {
      const unit = this.units.get(text);
      if (unit) return { text, tokens: [{ term: unit, raw: text, kind: 'unit' }], joined: [] };
      let chunk = text;
      if (chunk.includes("'")) {
        const at = chunk.lastIndexOf("'");
        const whole = chunk.slice(0, at);
        const ending = chunk.slice(at + 1);
        if (ending === 't' && this.negationStems.has(whole)) return { text, tokens: [this.notToken], joined: [] };
        if (['s', 're', 'll', 've', 'd', 'm'].includes(ending)) chunk = whole;
      }
      if (/[0-9]/.test(chunk)) return this.parseNumber(chunk);
      const parts = chunk.split(SEPARATORS).filter((part) => part !== '');
      const tokens = [].concat(...parts.map((part) => this.plain(part)));
      const joined = [];
      if (tokens.length === parts.length && tokens.length > 1 && /[-']/.test(chunk)) {
        for (let i = 1; i < tokens.length; i += 1) joined.push(this.pair(tokens[i - 1], tokens[i]));
      }
      return { text, tokens, joined: joined.filter((pair) => pair) };
    }

    plain(word) {
      if (this.negations.has(word)) return [this.notToken];
      return this.stopWords.has(word) ? [] : [{ term: this.stem(word), raw: word, kind: 'word' }];
    }

    parseNumber(text) {
      const glued = NUMBER_WITH_UNIT.exec(text);
      const unit = glued && (this.units.get(glued[2]) || this.unitsAfterNumber.get(glued[2]));
      if (unit) {
        return { text, tokens: [...this.number(glued[1]), { term: unit, raw: glued[2], kind: 'unit' }], joined: [] };
      }
      const tokens = [];
      let pieces = 0;
      let exact = true;
      text.split('-').filter((piece) => piece !== '').forEach((piece) => {
        const number = this.number(piece);
        if (number.length) {
          tokens.push(...number);
          pieces += 1;
          exact = exact && /^[0-9]+$/.test(piece);
          return;
        }
        piece.split(SEPARATORS).filter((part) => part !== '').forEach((part) => {
          pieces += 1;
          if (/[0-9]/.test(part)) tokens.push({ term: part, raw: part, kind: /^[0-9]+$/.test(part) ? 'number' : 'code' });
          else tokens.push(...this.plain(part));
        });
      });
      const code = text.split(SEPARATORS).join('');
      const longEnough = code.length >= 5 || (code.length >= 4 && !/^[0-9]+$/.test(code));
      const whole = (pieces > 1 && exact && longEnough) || /^[0-9]{3,}\.[0-9]{3,}$/.test(text);
      return { text, tokens, joined: whole ? [code] : [] };
    }

    number(text) {
      const token = (term) => [{ term, raw: text, kind: 'number' }];
      if (/^[0-9]+(?:\/[0-9]+)?$/.test(text)) return token(text);
      if (/^[0-9]{1,3}(?:,[0-9]{3})+$/.test(text)) return token(text.replace(/,/g, ''));
      if (!/^[0-9]*[.,][0-9]+$/.test(text)) return [];
      const [whole, fraction] = text.replace(',', '.').split('.');
      const kept = fraction.replace(/0+$/, '');
      const front = whole.replace(/^0+/, '') || '0';
      return token(kept ? `${front}.${kept}` : front);
    }

    // Append the tokens of `chunks`, each read in the light of what stands before it; return what then does.
    extend(tokens, before, chunks) {
      let previous = chunks.length && before ? before : { text: '', hasToken: false };
      chunks.forEach((chunk) => {
        let reading = { dropped: false, added: chunk.tokens };
        if (this.context.has(chunk.text)) reading = this.inContext(tokens[tokens.length - 1], previous, chunk);
        if (reading.dropped) tokens.pop();
        tokens.push(...reading.added);
        previous = { text: chunk.text, hasToken: reading.added.length > 0 };
      });
      return previous;
    }

    inContext(last, before, chunk) {
      let added = chunk.tokens;
      if (chunk.text === 't' && this.negationStems.has(before.text)) {
        return { dropped: before.hasToken, added: [this.notToken] };
      }
      if (!before.hasToken) return { dropped: false, added };
      if (this.unitsAfterNumber.has(chunk.text) && last.kind === 'number') {
        added = [{ term: this.unitsAfterNumber.get(chunk.text), raw: chunk.text, kind: 'unit' }];
      }
      if (!added.length) return { dropped: false, added };
      const pair = this.unitPairs.get(`${last.term} ${added[0].term}`);
      if (pair) return { dropped: true, added: [{ term: pair, raw: chunk.text, kind: 'unit' }] };
      return { dropped: added[0].kind === 'not' && last.term === 'will', added };
    }
  }

  window.shearpinSearchParts = Object.assign(window.shearpinSearchParts || {}, { Analyser, porter2, fold, split });
})();
