/* The word of the book that was probably meant: edit distance in which likely slips cost less, as in
   shearpin/search/spelling.py. */
(() => {
  'use strict';

  const before = (left, right) => (left < right ? -1 : left > right ? 1 : 0);

  class Spelling {
    constructor(tables) {
      this.tables = tables;
      this.weak = new Set(tables.WEAK_LETTERS);
      this.soundGroup = new Map();
      tables.SOUND_GROUPS.forEach((group, number) => {
        Array.from(group).forEach((letter) => this.soundGroup.set(letter, number));
      });
      this.nearKeys = new Set();
      tables.KEY_ROWS.forEach((row, number) => {
        Array.from(row).forEach((key, column) => {
          const below = tables.KEY_ROWS[number + 1] || '';
          const near = row.slice(column + 1, column + 2) + below.slice(Math.max(0, column - 1), column + 1);
          Array.from(near).forEach((other) => this.nearKeys.add(key + other).add(other + key));
        });
      });
    }

    // The likeliest words with their ratings, best (lowest) first.
    candidates(typed, lists) {
      const costs = this.tables.LARGEST_COSTS;
      const limit = costs[Math.min(typed.length, costs.length - 1)];
      const rated = this.rated(typed, lists, [0, -1, 1], this.tables.LETTERS_APART, limit);
      if (!rated.length && typed.length >= 6 && lists.complete()) {
        rated.push(...this.rated(typed, lists, [-2, 2], this.tables.LETTERS_APART, limit));
      }
      return rated.slice(0, this.tables.MAX_CANDIDATES);
    }

    nearest(typed, lists) {
      const apart = this.tables.LETTERS_APART_NEAREST;
      const rated = this.rated(typed, lists, [0, -1, 1, -2, 2], apart, 10 * typed.length);
      return rated.slice(0, this.tables.NEAREST_WORDS).map((found) => found.word);
    }

    rated(typed, lists, differences, apart, limit) {
      const letters = new Set(typed);
      const found = [];
      differences.forEach((difference) => {
        lists.words(typed.length + difference).forEach(({ word, common }) => {
          const others = new Set(word);
          let different = 0;
          letters.forEach((letter) => { different += others.has(letter) ? 0 : 1; });
          others.forEach((letter) => { different += letters.has(letter) ? 0 : 1; });
          if (different > apart) return;
          const cost = this.editCost(typed, word);
          if (cost <= limit) found.push({ rating: 2 * cost - common, word });
        });
      });
      return found.sort((a, b) => a.rating - b.rating || before(a.word, b.word));
    }

    editCost(typed, word) {
      const { COST_FIRST_LETTER: firstLetter, COST_SWAPPED: swapped } = this.tables;
      let above = [];
      let row = [0];
      for (let j = 0; j < word.length; j += 1) row.push(row[j] + this.letterCost(word[j], word[j - 1]));
      for (let i = 0; i < typed.length; i += 1) {
        const tooMany = this.letterCost(typed[i], typed[i - 1]);
        const next = [row[0] + tooMany];
        for (let j = 0; j < word.length; j += 1) {
          const change = this.changeCost(typed[i], word[j]) + (i || j ? 0 : firstLetter);
          let best = Math.min(row[j + 1] + tooMany, next[j] + this.letterCost(word[j], word[j - 1]));
          best = Math.min(best, row[j] + (typed[i] === word[j] ? 0 : change));
          if (i && j && typed[i] === word[j - 1] && typed[i - 1] === word[j]) best = Math.min(best, above[j - 1] + swapped);
          next.push(best);
        }
        above = row;
        row = next;
      }
      return row[word.length];
    }

    changeCost(left, right) {
      const group = this.soundGroup.get(left);
      if (group !== undefined && group === this.soundGroup.get(right)) return this.tables.COST_SOUNDS_ALIKE;
      return this.nearKeys.has(left + right) ? this.tables.COST_NEAR_KEY : this.tables.COST_OTHER_LETTER;
    }

    letterCost(letter, previous) {
      if (letter === previous) return this.tables.COST_DOUBLED;
      const cost = this.weak.has(letter) ? this.tables.COST_WEAK_LETTER : this.tables.COST_MISSING_LETTER;
      return previous ? cost : cost + this.tables.COST_FIRST_LETTER;
    }
  }

  Object.assign(window.shearpinSearchParts, { Spelling, before });
})();
