/* The index as it is read, file by file: what shearpin/search/shards.py and packing.py have written. */
(() => {
  'use strict';

  /* ---- packed strings ----------------------------------------------------------------------- */

  const DIGITS = Array.from({ length: 94 }, (_, i) => String.fromCharCode(33 + i)).filter((c) => c !== '"' && c !== '\\');
  const VALUES = new Uint8Array(127);
  DIGITS.forEach((digit, value) => { VALUES[digit.charCodeAt(0)] = value; });
  const BASE = DIGITS.length / 2;

  class Unpacker {
    constructor(text) {
      this.text = text;
      this.at = 0;
    }

    more() {
      return this.at < this.text.length;
    }

    digit() {
      const value = VALUES[this.text.charCodeAt(this.at)];
      this.at += 1;
      return value;
    }

    number() {
      let total = 0;
      let place = 1;
      let digit = this.digit();
      while (digit >= BASE) {
        total += (digit - BASE) * place;
        place *= BASE;
        digit = this.digit();
      }
      return total + digit * place;
    }
  }

  const numbers = (text) => {
    const unpacker = new Unpacker(text);
    const found = [];
    while (unpacker.more()) found.push(unpacker.number());
    return found;
  };

  // One loop without calls for most of the digits: no other work of a search is done as often.
  const unpackPostings = (packed, strongCode) => {
    const unpacker = new Unpacker(packed);
    const head = unpacker.number();
    const isShort = head % 2 === 1;
    const long = 8 * strongCode;
    const remainders = Math.floor((DIGITS.length - long) / 2);
    const records = [];
    const codes = [];
    let record = -1;
    while (unpacker.at < packed.length) {
      const digit = isShort ? VALUES[packed.charCodeAt(unpacker.at)] : 0;
      if (isShort && digit < long) {
        unpacker.at += 1;
        record += Math.floor(digit / strongCode) + 1;
        codes.push(digit % strongCode);
      } else {
        if (isShort) {
          unpacker.at += 1;
          const far = digit - long >= remainders;
          record += ((digit - long) % remainders) + 1 + (far ? (unpacker.number() + 1) * remainders : 0);
        } else {
          record += unpacker.number() + 1;
        }
        codes.push(VALUES[packed.charCodeAt(unpacker.at)]);
        unpacker.at += 1;
      }
      records.push(record);
    }
    return { idf: Math.floor(head / 2), records, codes };
  };

  // A word from the one before it: a capital says how many letters they share.
  const after = (before, rest) => before.slice(0, rest.charCodeAt(0) - 65) + rest.slice(1);

  const frontCoded = (pieces) => {
    let word = '';
    return pieces.map((piece) => {
      word = after(word, piece);
      return word;
    });
  };

  // Rows of four texts: the id (empty where the title gives it) and the title after those of the row before.
  const unpackCards = (packed) => {
    const cards = [];
    let last = { id: '', title: '' };
    for (let i = 0; i < packed.length; i += 4) {
      const title = after(last.title, packed[i + 1]);
      const words = title.toLowerCase().match(/[a-z0-9]+/g) || [];
      const id = packed[i] ? after(last.id, packed[i]) : words.filter((word) => !['a', 'an', 'the'].includes(word)).join('-');
      last = { id, title, excerpt: packed[i + 2], url: packed[i + 3] };
      cards.push(last);
    }
    return cards;
  };

  // The last of the sorted `firsts` that is not after `wanted`.
  const placeOf = (firsts, wanted) => {
    let low = 0;
    let high = firsts.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (firsts[middle] <= wanted) low = middle + 1;
      else high = middle;
    }
    return low - 1;
  };
  const [EVERYBODYS, OWN, OTHERS] = [0, 1, 2];
  const fileName = (letter, number, width) => letter + String(number).padStart(width, '0');

  /* ---- the index ---------------------------------------------------------------------------------------------------------- */

  // Reads what is loaded; what is not is noted as wanted, and the question is asked again once it is there.
  class Lists {
    constructor(head, files) {
      this.head = head;
      this.files = files;
      this.wanted = new Set();
      this.termFiles = new Map();
      this.found = new Map();
      this.wordFiles = new Map();
      this.cardFiles = new Map();
      this.fitted = null;
      // Kinds of further documents, which answer for one plate only, bear a mark.
      this.kindNames = head.kindNames.map((name) => name.replace('@', ''));
      this.answers = head.kindNames.map((name) => name.endsWith('@'));
      this.kindNumbers = this.unpackKinds(head.kinds);
      this.firsts = frontCoded(head.terms.split(' '));
    }

    total() {
      return this.head.total;
    }

    // A digit of the upper half repeats the kind before it.
    unpackKinds(packed) {
      const found = new Uint8Array(this.head.total);
      let record = 0;
      for (let i = 0; i < packed.length; i += 1) {
        const digit = VALUES[packed.charCodeAt(i)];
        if (digit < BASE) {
          found[record] = digit;
          record += 1;
        } else {
          found.fill(found[record - 1], record, record + digit - BASE + 1);
          record += digit - BASE + 1;
        }
      }
      return found;
    }

    complete() {
      return this.wanted.size === 0;
    }

    file(name) {
      if (!this.files.has(name)) this.wanted.add(name);
      return this.files.get(name);
    }

    kind(record) {
      return this.kindNames[this.kindNumbers[record]];
    }

    isAnswer(record) {
      return this.answers[this.kindNumbers[record]];
    }

    termFile(number) {
      const name = fileName('t', number, 4);
      if (!this.termFiles.has(name)) {
        const data = this.file(name);
        if (!data) return null;
        const entries = new Map();
        const pairs = new Set();
        const fields = data[0] === '' ? [] : data[0].split(' ');
        let term = '';
        for (let i = 0; i < fields.length; i += 2) {
          const pairOnly = fields[i].endsWith('+');
          term = after(term, fields[i].slice(0, pairOnly ? -1 : undefined));
          entries.set(term, fields[i + 1]);
          if (pairOnly) pairs.add(term);
        }
        const phrases = new Map();
        data[1].forEach(([terms, concept, preferred, raws]) => {
          const phrase = { terms: terms.split(' '), concept, preferred, raws: raws && raws.split(' ') };
          phrases.set(phrase.terms[0], (phrases.get(phrase.terms[0]) || []).concat(phrase));
        });
        this.termFiles.set(name, { entries, pairs, phrases });
      }
      return this.termFiles.get(name);
    }

    // Take a file of terms apart.
    unpack(name) {
      if (name.startsWith('t')) this.termFile(Number(name.slice(1)));
    }

    fileOf(term) {
      return this.termFile(placeOf(this.firsts, term));
    }

    knows(term) {
      const file = this.fileOf(term);
      return file !== null && file.entries.has(term);
    }

    find(term) {
      if (!this.found.has(term)) {
        const file = this.fileOf(term);
        if (!file) return null;
        const packed = file.entries.get(term);
        const found = packed && unpackPostings(packed, this.head.tables.STRONG_CODE);
        this.found.set(term, found && found.records.length ? found : null);
      }
      return this.found.get(term);
    }

    phrases(first) {
      const file = this.fileOf(first);
      return (file && file.phrases.get(first)) || [];
    }

    beginningWith(prefix, limit) {
      const terms = [];
      for (let number = placeOf(this.firsts, prefix); number < this.firsts.length; number += 1) {
        if (this.firsts[number] > prefix && !this.firsts[number].startsWith(prefix)) return terms;
        const file = this.termFile(number);
        if (!file) return terms;
        for (const term of file.entries.keys()) {
          const usable = term.startsWith(prefix) && !file.pairs.has(term) && !/[!@]$|#/.test(term);
          if (usable && this.find(term)) terms.push(term);
          if (terms.length === limit) return terms;
        }
      }
      return terms;
    }

    words(length) {
      const { words } = this.head;
      const longest = words[words.length - 1];
      const from = Math.min(length, longest);
      if (!words.includes(from)) return [];
      const name = fileName('w', from, 2);
      if (!this.wordFiles.has(name)) {
        const packed = this.file(name);
        if (packed === undefined) return [];
        const found = [];
        let word = '';
        packed.replace(/([A-Z][^A-Z0-9]*)([0-9])/g, (_, rest, common) => {
          word = after(word, rest);
          found.push({ word, common: Number(common) });
          return '';
        });
        this.wordFiles.set(name, found);
      }
      return this.wordFiles.get(name).filter(({ word }) => word.length === length);
    }

    // Whether it is an everyday word, which the book may not use and which is no misspelling.
    isOrdinary(word) {
      if (!this.ordinary) {
        const words = this.file('ordinary');
        if (words === undefined) return false;
        this.ordinary = new Set(frontCoded(words.match(/[A-Z][^A-Z]*/g)));
      }
      return this.ordinary.has(word);
    }

    // For which machines each record is: EVERYBODYS, OWN or OTHERS; null when no record names the machine.
    fit(machine) {
      const { machines } = this.head;
      const number = placeOf(machines, machine);
      if (number < 0) return null;
      const group = this.file(fileName('m', number, 2));
      const sets = this.file('sets');
      if (!group || sets === undefined || group[machine] === undefined) return null;
      if (!this.fitted || this.fitted.machine !== machine) {
        const own = new Set(numbers(group[machine]));
        const places = Uint8Array.from(numbers(sets), (set) => (own.has(set) ? OWN : set === 0 ? EVERYBODYS : OTHERS));
        this.fitted = { machine, places };
      }
      return this.fitted;
    }

    // Send for what a machine still to be learnt will need, where there is but one file of machines.
    fitAhead() {
      this.file('sets');
      if (this.head.machines.length === 1) this.file(fileName('m', 0, 2));
      return null;
    }

    card(record) {
      const { cards } = this.head;
      const name = fileName('c', Math.floor(record / cards), 3);
      if (!this.cardFiles.has(name)) {
        const packed = this.file(name);
        if (!packed) return null;
        this.cardFiles.set(name, unpackCards(packed));
      }
      const { id, title, excerpt, url } = this.cardFiles.get(name)[record % cards];
      return { id, title, excerpt, url: url || `${this.head.folders[this.kind(record)] || ''}${id.split('@')[0]}.html` };
    }
  }

  Object.assign(window.shearpinSearchParts, { Lists, EVERYBODYS, OWN, OTHERS });
})();
