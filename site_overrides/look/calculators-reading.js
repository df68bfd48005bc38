/* What people type into a bench calculator: numbers, fractions, units, threads and grades, read as the book's own
   checks read them. Tables come from the page. Values are kept as pairs of numbers whose sum
   is exact to thirty digits, so that a converted figure rounds as it does on paper. */
(() => {
  'use strict';

  const bench = (window.shearpinBench = window.shearpinBench || {});

  /* A refusal: the input at fault (empty: none), why, and what to write instead. */
  const refusal = (message, hint = '', key = '') => {
    const error = new Error(message);
    error.refusal = { key, message, hint };
    return error;
  };

  /* ---- numbers of thirty digits: [head, tail] ------------------------------------------------------------------------- */

  const HALF_DIGITS = 134217729; // 2^27 + 1 splits a number into two of 26 bits (Dekker 1971)

  const sum = (a, b) => {
    const head = a + b;
    const part = head - a;
    return [head, a - (head - part) + (b - part)];
  };

  const product = (a, b) => {
    const head = a * b;
    const [aHigh, bHigh] = [a, b].map((x) => x * HALF_DIGITS - (x * HALF_DIGITS - x));
    const [aLow, bLow] = [a - aHigh, b - bHigh];
    return [head, aHigh * bHigh - head + aHigh * bLow + aLow * bHigh + aLow * bLow];
  };

  const exact = {
    add: (x, y) => {
      const [head, tail] = sum(x[0], y[0]);
      return sum(head, tail + x[1] + y[1]);
    },
    negate: (x) => [-x[0], -x[1]],
    times: (x, y) => {
      const [head, tail] = product(x[0], y[0]);
      return sum(head, tail + x[0] * y[1] + x[1] * y[0]);
    },
    over: (x, y) => {
      let rest = x;
      let result = [0, 0];
      for (let digit = 0; digit < 4; digit += 1) {
        const part = rest[0] / y[0];
        rest = exact.add(rest, exact.negate(exact.times([part, 0], y)));
        result = exact.add(result, [part, 0]);
      }
      return result;
    },
    less: (x, y) => x[0] < y[0] || (x[0] === y[0] && x[1] < y[1]),
    number: (x) => x[0] + x[1],
  };

  /* ---- how numbers are shown ------------------------------------------------------------------------------------------- */

  /* So many significant digits, without an exponent or idle zeros; halves go away from zero. */
  const shown = (number, digits = 4) => {
    if (Number.isNaN(number)) return 'not a number';
    if (!Number.isFinite(number)) return 'infinite';
    if (number === 0) return '0';
    const [coefficient, exponent] = Math.abs(number).toExponential(digits - 1).split('e');
    const figures = coefficient.replace('.', '');
    const point = Number(exponent) + 1;
    let text;
    if (point <= 0) text = `0.${'0'.repeat(-point)}${figures}`;
    else if (point >= figures.length) text = figures + '0'.repeat(point - figures.length);
    else text = `${figures.slice(0, point)}.${figures.slice(point)}`;
    if (text.includes('.')) text = text.replace(/0+$/, '').replace(/\.$/, '');
    return (number < 0 ? '−' : '') + text;
  };

  const withUnit = (number, unit, digits = 4) =>
    `${shown(number, digits)}${unit === '' || unit === '°' ? '' : ' '}${unit}`;

  /* As `%g` prints: an exponent only for the very large and the very small. */
  const general = (number, digits = 6) => {
    const [coefficient, exponent] = number.toExponential(digits - 1).split('e');
    const power = Number(exponent);
    if (number !== 0 && (power < -4 || power >= digits)) {
      const figures = coefficient.includes('.') ? coefficient.replace(/\.?0+$/, '') : coefficient;
      return `${figures}e${power < 0 ? '-' : '+'}${String(Math.abs(power)).padStart(2, '0')}`;
    }
    const text = number.toFixed(Math.max(0, digits - 1 - power));
    return text.includes('.') ? text.replace(/\.?0+$/, '') : text;
  };

  /* ---- one number at a place in a text ----------------------------------------------------------------------------------- */

  const MOST_DIGITS = 15;
  const MOST_PART_DIGITS = 4;
  const LONGEST = 200;
  const VULGAR = { '½': [1, 2], '⅓': [1, 3], '⅔': [2, 3], '¼': [1, 4], '¾': [3, 4], '⅛': [1, 8], '⅜': [3, 8], '⅝': [5, 8], '⅞': [7, 8] };
  const LOOKALIKES = [
    [/[\t\n\r\u00a0\u2007-\u200a\u202f]/g, ' '], [/[∙⋅•‧・∗]/g, '·'], [/[−‐‑‒–—﹣－]/g, '-'], [/[º˚]/g, '°'],
    [/[″”“＂ʺ]/g, '"'], [/[′’ʹ]/g, "'"], [/[≦⩽]/g, '≤'], [/[≧⩾]/g, '≥'], [/[⁄∕]/g, '/'], [/\u2126/g, 'Ω'],
    [/\u00b5/g, 'μ'], [/％/g, '%'], [/∶/g, ':'], [/＋/g, '+'], [/₂/g, '2'],
  ];
  const plain = (text) => LOOKALIKES.reduce((so, [look, as]) => so.replace(look, as), text);

  const at = (pattern, text, place) => {
    pattern.lastIndex = place;
    return pattern.exec(text);
  };
  const skip = (text, place) => place + /^ */.exec(text.slice(place))[0].length;
  const readable = (part) =>
    Array.from(part).slice(0, 40).map((sign) => (/[\u0000-\u001f\u007f-\u00a0\u00ad\u200b-\u200f\u2028-\u202e\ufeff]/.test(sign)
      ? `U+${sign.codePointAt(0).toString(16).toUpperCase().padStart(4, '0')}` : sign)).join('');

  const FRACTION = /([-+]?) *(?:([0-9]+)( +|-))?([0-9]+)\/([0-9]+)/y;
  const SIGNED = /([-+]?) */y;
  const VULGAR_NUMBER = /([0-9]*) ?([½⅓⅔¼¾⅛⅜⅝⅞])/y;
  const DECIMAL = /((?:[0-9]{1,3}(?: [0-9]{3})+(?![0-9/]))|(?:[1-9][0-9]{0,2}(?:,[0-9]{3})+(?![0-9,]))|[0-9]+|(?=\.[0-9]))(\.[0-9]+)?/y;
  const STRAY = /(, ?[0-9])|([eE][-+]?[0-9])|(\.[0-9])/y;

  const decimalComma = (text, comma) => {
    const digits = /[0-9]*$/.exec(text.slice(0, comma))[0];
    const part = /^, *([0-9]*)/.exec(text.slice(comma));
    const tail = part ? part[1] : '';
    const point = `\`${digits}.${tail}\` with a decimal point`;
    const thousands = tail.length === 3 && /[1-9]/.test(digits) ? `\`${digits}${tail}\` for thousands, or ` : '';
    return refusal('a decimal comma is not accepted', `write ${thousands}${point}`);
  };

  const decimal = (sign, match, start, end) => {
    const spelt = match[1];
    const part = (match[2] || '.').slice(1);
    const comma = (spelt.match(/,/g) || []).length === 1 && !part ? match.index + spelt.indexOf(',') : -1;
    const digits = spelt.replace(/[ ,]/g, '');
    if (digits.length > MOST_DIGITS || part.length > MOST_DIGITS) {
      throw refusal('the number is too long', `write at most ${MOST_DIGITS} digits on either side of the point`);
    }
    let value = [Number(digits || '0'), 0];
    if (part) value = exact.add(value, exact.over([Number(part), 0], [Math.pow(10, part.length), 0]));
    const text = (digits.replace(/^0+/, '') || '0') + (part ? `.${part}` : '');
    const negative = sign === '-' && exact.number(value) !== 0;
    return {
      value: negative ? exact.negate(value) : value, text: (negative ? '−' : '') + text,
      decimals: part.length, start, end, comma,
    };
  };

  const fraction = (sign, wholeText, joint, top, bottom, start, end, wholeEnd) => {
    if (wholeText.length > MOST_DIGITS || Math.max(String(top).length, String(bottom).length) > MOST_PART_DIGITS) {
      throw refusal('the number is too long', 'write it as a decimal number');
    }
    if (bottom === 0) throw refusal('a fraction cannot be divided by zero', 'write it as `3/8`');
    const whole = Number(wholeText || '0');
    const minus = sign === '-' ? -1 : 1;
    if (wholeText && top >= bottom) {
      if (joint !== '-') throw refusal('the fraction must be less than one', 'write it as `1 1/4`');
      return { value: [minus * whole, 0], text: `${minus < 0 && whole ? '−' : ''}${whole}`, decimals: 0, start, end: wholeEnd, comma: -1 };
    }
    const value = exact.add([whole, 0], exact.over([top, 0], [bottom, 0]));
    const text = whole ? `${whole} ${top}/${bottom}` : `${top}/${bottom}`;
    const negative = minus < 0 && exact.number(value) !== 0;
    return { value: negative ? exact.negate(value) : value, text: (negative ? '−' : '') + text, decimals: null, start, end, comma: -1 };
  };

  const scanNumber = (text, place) => {
    const start = skip(text, place);
    let found = null;
    const common = at(FRACTION, text, start);
    if (common) {
      const wholeEnd = common[2] === undefined ? 0 : start + common[0].indexOf(common[2]) + common[2].length;
      found = fraction(common[1], common[2] || '', common[3], Number(common[4]), Number(common[5]), start, FRACTION.lastIndex, wholeEnd);
    } else {
      const sign = at(SIGNED, text, start)[1];
      const after = SIGNED.lastIndex;
      const vulgar = at(VULGAR_NUMBER, text, after);
      if (vulgar) {
        const [top, bottom] = VULGAR[vulgar[2]];
        found = fraction(sign, vulgar[1], '', top, bottom, start, VULGAR_NUMBER.lastIndex, 0);
      } else {
        const digits = at(DECIMAL, text, after);
        if (digits) found = decimal(sign, digits, start, DECIMAL.lastIndex);
      }
    }
    if (!found) {
      const what = start < text.length ? `found \`${readable(text[start])}\`` : 'but the text ends';
      throw refusal(`expected a number, ${what}`, 'write a value such as `24 N·m` or `22–26 N·m`');
    }
    const stray = at(STRAY, text, found.end);
    if (stray && stray[1]) throw decimalComma(text, found.end);
    if (stray && stray[2]) throw refusal('a number with an exponent is not accepted', 'write the number out');
    if (stray) throw refusal('a number has one decimal point', 'write it as `3600` or `0.75`');
    return found;
  };

  /* ---- units ------------------------------------------------------------------------------------------------------------------ */

  const WORD = /(?:H2O|[A-Za-zÀ-ÖØ-öø-ÿΑ-ωℓ℃℉°"'%⁻¹²³])+/y;
  const POWER = /\^?([23])(?![0-9A-Za-z]|[./][0-9])/y;
  const INVERSE = /\^?-1(?! *[0-9A-Za-z½⅓⅔¼¾⅛⅜⅝⅞]|[./][0-9])/y;
  const GAP = /[ ·.*×()-]*\/?[ ·.*×()-]*/y;
  const COLON = / *:( *1(?![0-9.]))?/y;
  const CLOSE = /\.?\)|\.(?![0-9])/y;
  const GOES_ON = ['-', ' -', '±', ' ±', ' to '];
  const STOP = ['to', 'through', 'max', 'maximum', 'min', 'minimum', 'plus', 'or'];
  const CASE_MATTERS = ['mpa', 'mv', 'ma', 'mω', 'mohm', 'mohms', 'mbar', 'nm'];
  const SEQUENCES = [['day', 'h', 'min', 's'], ['ft', 'in'], ['lb', 'oz']];

  let tables = null;
  const inWords = (kind) => kind.replace(/-/g, ' ');

  const useTables = (data) => {
    const [byKey, folded] = [new Map(), new Map()];
    const put = (map, key, unit) => {
      const known = map.get(key) || [];
      if (!known.includes(unit)) map.set(key, known.concat([unit]));
    };
    const pair = (number) => (Array.isArray(number) ? number : [number, 0]);
    const units = data.units.map(([kind, symbol, plural, factor, offset, spelt]) =>
      ({ kind, symbol, plural, factor: pair(factor), offset: pair(offset), spelt }));
    units.forEach((unit) => {
      const spaced = unit.symbol.replace('·', ' ').replace('₂', '2');
      [unit.symbol, spaced].concat(unit.spelt ? unit.spelt.split(',') : []).filter(Boolean).forEach((key) => {
        put(byKey, key, unit);
        put(folded, key.toLowerCase(), unit);
      });
    });
    tables = { data, units, byKey, folded };
  };

  const unitNamed = (kind, symbol) => tables.units.find((unit) => unit.kind === kind && unit.symbol === symbol);
  const usual = (kind) => tables.data.usual[kind] || 'write a plain number';

  const toBase = (unit, value) => exact.add(exact.times(value, unit.factor), unit.offset);
  const fromBase = (unit, value) => exact.over(exact.add(value, exact.negate(unit.offset)), unit.factor);
  const converted = (value, from, to) => (from === to ? value : fromBase(to, toBase(from, value)));

  const unitText = (text, unit, value) => {
    const symbol = unit.plural && exact.number(value) > 1 ? unit.plural : unit.symbol;
    return `${text}${['', '°', ':1'].includes(symbol) ? '' : ' '}${symbol}`;
  };

  const wordsAt = (text, place) => {
    const found = [];
    let [joint, here] = ['', skip(text, place)];
    for (let count = 0; count < 8; count += 1) {
      const match = at(WORD, text, here);
      if (!match) break;
      const start = here;
      let word = match[0];
      let end = WORD.lastIndex;
      const stops = found.length ? STOP : STOP.filter((stop) => stop !== 'min');
      if (joint !== '/' && stops.includes(word.toLowerCase())) break;
      const power = /[A-Za-z]$/.test(word) ? at(POWER, text, end) : null;
      const inverse = !power && /(^|[^A-Za-z])min$/.test(word) ? at(INVERSE, text, end) : null;
      if (power) {
        word += power[1] === '2' ? '²' : '³';
        end = POWER.lastIndex;
      } else if (inverse) {
        word = 'min⁻¹';
        end = INVERSE.lastIndex;
      }
      found.push({ key: found.length ? found[found.length - 1].key + joint + word : word, start, end });
      const gap = at(GAP, text, end);
      joint = gap[0].includes('/') ? '/' : ' ';
      here = GAP.lastIndex;
    }
    return found;
  };

  const lookUp = (key) => {
    if (tables.byKey.has(key)) return tables.byKey.get(key);
    const stranger = tables.data.strangers[key];
    if (stranger) throw refusal(stranger[0], stranger[1]);
    const small = key.toLowerCase();
    return key.length === 1 || CASE_MATTERS.includes(small) ? [] : tables.folded.get(small) || [];
  };

  const ofKind = (units, spelt, kind) => {
    const unit = units.find((each) => each.kind === kind);
    if (unit) return unit;
    const hint = (tables.data.hints[kind] || {})[units[0].symbol] || usual(kind);
    throw refusal(`\`${spelt}\` is a unit of ${inWords(units[0].kind)}, not of ${inWords(kind)}`, hint);
  };

  /* How alike two words are, from 0 to 1: twice the letters in common, in order, over all letters (Ratcliff, Obershelp). */
  const common = (a, b) => {
    if (!a || !b) return 0;
    let [best, fromA, fromB] = [0, 0, 0];
    for (let i = 0; i < a.length; i += 1) {
      for (let j = 0; j < b.length; j += 1) {
        let run = 0;
        while (i + run < a.length && a[i + run] === b[j + run] && j + run < b.length) run += 1;
        if (run > best) [best, fromA, fromB] = [run, i, j];
      }
    }
    if (!best) return 0;
    return best + common(a.slice(0, fromA), b.slice(0, fromB)) + common(a.slice(fromA + best), b.slice(fromB + best));
  };

  const nearest = (key, kind) => {
    const word = key.slice(0, 40).toLowerCase();
    let [found, likeness] = [null, 0.6];
    tables.folded.forEach((units, candidate) => {
      const unit = units.find((each) => each.kind === kind);
      const ratio = unit ? 2 * common(candidate, word) / (candidate.length + word.length) : 0;
      if (ratio > likeness || (ratio === likeness && (!found || candidate > found.candidate))) {
        [found, likeness] = [{ unit, candidate }, ratio];
      }
    });
    return found && found.unit;
  };

  const unknown = (text, words, kind) => {
    const unit = nearest(words[words.length - 1].key, kind) || nearest(words[0].key, kind);
    const spelt = text.slice(words[0].start, words[words.length - 1].end).slice(0, 40);
    return refusal(`unknown unit \`${spelt}\``, unit ? `did you mean \`${unit.symbol}\`?` : usual(kind));
  };

  const isJoined = (gap) => !gap.includes(' ') || /[·*×/]/.test(gap);

  const findUnit = (text, place, kind) => {
    if (GOES_ON.some((sign) => text.startsWith(sign, place))) return null;
    const colon = at(COLON, text, place);
    if (colon) {
      if (!colon[1]) throw refusal('a colon stands only before 1', 'write a ratio as `50:1`, a time as `1 h 30 min`');
      return { unit: ofKind(tables.byKey.get(':1'), ':1', kind), start: text.indexOf(':', place), end: COLON.lastIndex };
    }
    const words = wordsAt(text, place);
    if (!words.length) return null;
    for (let count = words.length; count > 0; count -= 1) {
      const { key, end: wordEnd } = words[count - 1];
      const units = lookUp(key);
      if (units.length) {
        let end = wordEnd;
        if (count < words.length && isJoined(text.slice(end, words[count].start))) throw unknown(text, words, kind);
        const close = at(CLOSE, text, end);
        if (close && (close[0] === '.' || text.slice(place, end).includes('('))) end = CLOSE.lastIndex;
        return { unit: ofKind(units, text.slice(words[0].start, end), kind), start: words[0].start, end };
      }
    }
    throw unknown(text, words, kind);
  };

  /* ---- a value with its unit, and what a whole text is -------------------------------------------------------------------------- */

  const NEXT_NUMBER = / *(?=[0-9.½⅓⅔¼¾⅛⅜⅝⅞])/y;

  const scanSequence = (text, number, found, sequence) => {
    if (number.value[0] < 0) throw refusal('a value below zero has one unit', `write it in \`${sequence[sequence.length - 1]}\` alone`);
    let [part, unit, value, end] = [number, found.unit, number.value, found.end];
    while (unit.symbol !== sequence[sequence.length - 1] && at(NEXT_NUMBER, text, end)) {
      if (part.decimals !== 0) throw refusal('only the last unit takes a fraction', 'write it as `1 h 30 min`');
      part = scanNumber(text, end);
      const after = findUnit(text, part.end, unit.kind);
      if (!after) throw refusal(`\`${part.text}\` has no unit`, 'write it as `1 h 30 min` or `7 ft 6 in`');
      if (!sequence.slice(sequence.indexOf(unit.symbol) + 1).includes(after.unit.symbol)) {
        throw refusal(`\`${after.unit.symbol}\` does not go after \`${unit.symbol}\``, 'write it in one unit');
      }
      const size = exact.add(exact.times(part.value, after.unit.factor), exact.negate(unit.factor));
      if (exact.number(size) >= -1e-20 * unit.factor[0]) {  // in thirty digits 12 inches may miss a foot by the last one
        throw refusal(`\`${part.text} ${after.unit.symbol}\` is not less than one \`${unit.symbol}\``, 'carry it over to the larger unit');
      }
      value = exact.add(exact.over(exact.times(value, unit.factor), after.unit.factor), part.value);
      [unit, end] = [after.unit, after.end];
    }
    return { value, unit, text: number.text, decimals: part.decimals, end, comma: Math.max(number.comma, part.comma), unitStart: found.start, sequence: true };
  };

  const scanOperand = (text, place, kind) => {
    const number = scanNumber(text, place);
    const found = findUnit(text, number.end, kind);
    if (!found) return Object.assign({ unit: null, unitStart: number.end }, number);
    const sequence = SEQUENCES.find((units) => units.slice(0, -1).includes(found.unit.symbol));
    if (sequence && at(NEXT_NUMBER, text, found.end)) return scanSequence(text, number, found, sequence);
    return Object.assign({}, number, { unit: found.unit, unitStart: found.start, end: found.end });
  };

  /* The unit that all operands share, and their values in it. */
  const settle = (operands, text, kind) => {
    const units = operands.map((operand) => operand.unit).filter(Boolean);
    const thousands = kind === 'count' || kind === 'rotational-speed';
    const comma = operands.find((operand) => operand.comma >= 0);
    if (comma && !thousands) throw decimalComma(text, comma.comma);
    if (!units.length) {
      if (kind === 'count' && operands.some((operand) => operand.decimals !== 0)) {
        throw refusal('a count is a whole number', 'write a number such as `2`');
      }
      const last = operands[operands.length - 1];
      if (!['count', 'ratio'].includes(kind)) throw refusal(`\`${last.text}\` has no unit`, usual(kind));
      return { unit: unitNamed(kind, ''), values: operands.map((operand) => operand.value) };
    }
    const differ = units.some((unit) => unit !== units[0]) || operands.some((operand) => operand.sequence);
    if (!differ) return { unit: units[0], values: operands.map((operand) => operand.value) };
    const without = operands.find((operand) => !operand.unit);
    if (without) throw refusal(`\`${without.text}\` has no unit`, 'write the unit after each number');
    const sequence = SEQUENCES.find((each) => units.every((unit) => each.includes(unit.symbol)));
    if (!sequence) throw refusal('both numbers need the same unit', `write \`${units[0].symbol}\``);
    const unit = units.reduce((so, each) => (sequence.indexOf(each.symbol) > sequence.indexOf(so.symbol) ? each : so));
    return { unit, values: operands.map((operand) => converted(operand.value, operand.unit, unit)) };
  };

  const MOST = 'max(?:imum\\b|\\.|(?![a-z]))|';
  const LEAST = 'min(?:imum\\b|\\.|(?![a-z]))|';
  const LIMIT = new RegExp(` *(?:(${MOST}≤|<=|=<|at most|up to|(?:not|no) more than)|(${LEAST}≥|>=|=>|at least|(?:not|no) less than))`, 'iy');
  const LIMIT_AFTER = new RegExp(` *,? *(?:(${MOST}or less)|(${LEAST}or more))`, 'iy');
  const RANGE = / *(?:-|(?:to|through)\b)/iy;
  const TOLERANCE = / *(?:±|\+ ?\/? ?-|plus or minus\b)/iy;
  const PER_CENT = / *(?:%|per ?cent\b|pct\b)/iy;
  const VAGUE = / *(?:[~≈]|(?:about|approx|approximately|around|ca|circa|nearly)\b)/iy;
  const STRICT = / *(?:(<|(?:less than|under|below)\b)|>|(?:more than|over|above)\b)/iy;
  const NEVER_NEGATIVE = ['torque', 'volume', 'speed', 'rotational-speed', 'mass', 'resistance', 'power', 'time', 'displacement', 'area', 'concentration', 'count', 'flow', 'charge', 'energy', 'frequency'];
  const REST_HINTS = {
    '(': 'write the value of the source alone: the conversion is computed', '-': 'a quantity has one range',
    '±': 'a quantity has one tolerance', '+': 'write an uneven tolerance as a range such as `22–25 N·m`',
    ',': 'write one quantity; use a decimal point', '/': 'write a fraction as `3/8`',
  };

  const expectEnd = (text, place) => {
    const rest = text.slice(skip(text, place));
    if (!rest) return;
    throw refusal(`unexpected \`${readable(rest.split(' ')[0])}\``,
      REST_HINTS[rest[0]] || 'write one value with one unit, and anything else in the note');
  };

  const refuseVague = (text) => {
    const vague = at(VAGUE, text, 0);
    if (vague) throw refusal(`\`${vague[0].trim()}\` says nothing that can be checked`, 'write a range or a tolerance');
    const strict = at(STRICT, text, 0);
    if (strict) {
      throw refusal(`\`${strict[0].trim()}\` leaves the limit itself out`, `write \`${strict[1] ? '≤' : '≥'}\` and the last value that is allowed`);
    }
  };

  const withRange = (text, first, place, kind) => {
    const second = scanOperand(text, place, kind);
    expectEnd(text, second.end);
    const { unit, values: [low, high] } = settle([first, second], text, kind);
    if (!exact.less(low, high)) {
      const [a, b] = [second.text, first.text];
      const spread = /[− ]/.test(a + b) ? `${a} to ${b}` : `${a}–${b}`;
      let hint = exact.less(high, low) ? `write \`${spread}\`` : `write \`${first.text}\` alone`;
      if (exact.less(high, low) && exact.number(high) === 1) hint = `write a ratio as \`${first.text}:1\``;
      throw refusal('the range does not rise', hint);
    }
    return { unit, low, high, nominal: null };
  };

  const withTolerance = (text, first, place, kind) => {
    const number = scanNumber(text, place);
    if (number.value[0] <= 0) throw refusal('a tolerance is more than zero', 'write it as `24 ± 2 N·m`');
    const share = at(PER_CENT, text, number.end);
    if (share && first.unit) {
      const symbol = first.unit.symbol;
      if (['%', 'vol %'].includes(symbol) || kind === 'temperature') {
        throw refusal(`a per cent of a value in ${symbol} is ambiguous`, `write \`${first.text} ± ${number.text} ${symbol}\` for a tolerance in that unit`);
      }
      expectEnd(text, PER_CENT.lastIndex);
      const { unit, values: [nominal] } = settle([first], text, kind);
      if (number.comma >= 0) throw decimalComma(text, number.comma);
      const size = nominal[0] < 0 ? exact.negate(nominal) : nominal;
      const half = exact.over(exact.times(size, number.value), [100, 0]);
      return { unit, low: exact.add(nominal, exact.negate(half)), high: exact.add(nominal, half), nominal };
    }
    const second = scanOperand(text, place, kind);
    expectEnd(text, second.end);
    const { unit, values: [nominal, half] } = settle([first, second], text, kind);
    return { unit, low: exact.add(nominal, exact.negate(half)), high: exact.add(nominal, half), nominal };
  };

  const refuseImpossible = (quantity, kind) => {
    const bounds = [quantity.low, quantity.high].filter(Boolean);
    const check = 'check the number and the unit';
    if (NEVER_NEGATIVE.includes(kind) && bounds.some((bound) => exact.number(bound) < 0)) {
      throw refusal(`${inWords(kind)} is never below zero`, 'check the sign and the tolerance');
    }
    const inUnit = (symbol) => bounds.map((bound) => exact.number(converted(bound, quantity.unit, unitNamed(kind, symbol))));
    if (kind === 'temperature' && inUnit('K').some((kelvin) => kelvin < 0)) {
      throw refusal('the temperature is below absolute zero', check);
    }
    if (kind === 'concentration' && inUnit('vol %').some((share) => share > 100)) {
      throw refusal('a concentration is never above 100 %', check);
    }
  };

  /* A quantity: its unit, and low, high and nominal value in it; a range has no nominal value, a limit one bound. */
  const parseQuantity = (typed, kind) => {
    const text = plain(typed);
    if (text.length > LONGEST) throw refusal('the text is too long for a quantity', 'write the value alone, the rest in a note');
    if (!text.trim()) throw refusal('the quantity is empty', 'write a value such as `24 N·m`');
    const limit = at(LIMIT, text, 0);
    if (!limit) refuseVague(text);
    const first = scanOperand(text, limit ? limit[0].length : 0, kind);
    const after = limit ? null : at(LIMIT_AFTER, text, first.end);
    const tolerance = at(TOLERANCE, text, first.end);
    const range = at(RANGE, text, first.end);
    let quantity;
    if (limit || after) {
      const end = after ? first.end + after[0].length : first.end;
      if (at(TOLERANCE, text, end) || at(RANGE, text, end)) throw refusal('a limit has one number', 'write the limit or the range, not both');
      expectEnd(text, end);
      const { unit, values: [bound] } = settle([first], text, kind);
      const most = (limit || after)[1] !== undefined;
      quantity = { unit, low: most ? null : bound, high: most ? bound : null, nominal: null };
    } else if (tolerance) quantity = withTolerance(text, first, first.end + tolerance[0].length, kind);
    else if (range) quantity = withRange(text, first, first.end + range[0].length, kind);
    else {
      expectEnd(text, first.end);
      const { unit, values: [value] } = settle([first], text, kind);
      quantity = { unit, low: value, high: value, nominal: value };
    }
    refuseImpossible(quantity, kind);
    return quantity;
  };

  /* ---- threads and grades --------------------------------------------------------------------------------------------------------- */

  const THREAD_HINT = 'write it like M6, M8×1, 1/4-20, 5/16-18 UNC or No. 10-32';
  const impossible = (argument, sentence) => {
    const error = new Error(sentence);
    error.argument = argument;
    return error;
  };
  const noThread = (sentence) => impossible('thread', sentence);

  const metricThread = (typed, diameterText, pitchText, leftHand) => {
    const { coarse, fine } = tables.data.threads;
    const diameter = Number(diameterText);
    const size = `M${shown(diameter)}`;
    const usualPitch = coarse[String(diameter)];
    if (usualPitch === undefined) throw noThread(`${size} is not a standard metric size; ${THREAD_HINT}`);
    const pitch = pitchText === undefined ? usualPitch : Number(pitchText);
    const others = fine[String(diameter)] || [];
    const suffix = leftHand ? ' LH' : '';
    const thread = (name, series) => ({ designation: name + suffix, system: 'metric', series, diameter, pitch });
    if (pitch === usualPitch) return thread(size, 'coarse');
    if (others.includes(pitch)) return thread(`${size}×${shown(pitch)}`, 'fine');
    if (pitch >= diameter / 2) {
      throw noThread(`\`${typed.trim()}\` reads as a bolt ${shown(pitch)} mm long; give the thread alone: ${size}`);
    }
    const known = [usualPitch].concat(others).map((each) => shown(each)).join(', ');
    throw noThread(`${size} has no pitch of ${shown(pitch)} mm; the standard has ${known} mm`);
  };

  const unifiedSize = (typed, size, numbered, perInch) => {
    const whole = /^[0-9]+$/.test(size);
    if (numbered || (whole && (Number(size) !== 1 || perInch === 64 || perInch === 72))) {
      if (!whole || Number(size) > 12) throw noThread(`\`${typed.trim()}\` is not a thread; numbered sizes run from 0 to 12`);
      return [`No. ${Number(size)}`, Math.round((0.06 + 0.013 * Number(size)) * 1000) / 1000];
    }
    let [top, bottom] = [0, 1];
    size.split(/[ -]/).forEach((part) => {
      const [over, under] = part.includes('/') ? part.split('/').map(Number)
        : [Number(part) * 1e6, 1e6];
      if (!under) throw noThread(`\`${typed.trim()}\` is not a thread; ${THREAD_HINT}`);
      [top, bottom] = [top * under + Math.round(over) * bottom, bottom * under];
    });
    let [a, b] = [top, bottom];
    while (b) [a, b] = [b, a % b];
    [top, bottom] = [top / a, bottom / a];
    const rest = top % bottom;
    const name = [Math.floor(top / bottom) || '', rest ? `${rest}/${bottom}` : ''].filter(Boolean).join(' ');
    return [name || '0', top / bottom];
  };

  const UNIFIED = /^(no\.? ?|#)?([0-9]+[ -][0-9]+\/[0-9]+|[0-9]+\/[0-9]+|[0-9]*\.[0-9]+|[0-9]+)(?: ?(?:in|inch|"))?(?: ?- ?([0-9]+))?(?: (unc|unf|unef|uns))?$/;
  const METRIC = /^m ?([0-9]+(?:\.[0-9]+)?)(?: ?x ?([0-9]+(?:\.[0-9]+)?))?$/;

  const unifiedThread = (typed, match, leftHand) => {
    const perInch = match[3] ? Number(match[3]) : null;
    const [name, inches] = unifiedSize(typed, match[2], Boolean(match[1]), perInch);
    const series = tables.data.threads.unified.filter(([, sizes]) => sizes[name] !== undefined).map(([label, sizes]) => [label, sizes[name]]);
    if (!series.length) throw noThread(`${name} is not a unified thread size; ${THREAD_HINT}`);
    const known = series.map(([label, count]) => `${name}-${count} ${label}`).join(', ');
    const wanted = match[4] ? match[4].toUpperCase() : null;
    if (perInch === null && wanted === null) throw noThread(`\`${typed.trim()}\` lacks its threads per inch; ${known} exist`);
    const fit = series.find(([label, count]) => (wanted === null || wanted === label) && (perInch === null || perInch === count));
    if (!fit) throw noThread(`\`${typed.trim()}\` is no standard thread; ${known} exist`);
    return { designation: `${name}-${fit[1]} ${fit[0]}${leftHand ? ' LH' : ''}`, system: 'unified', series: fit[0], diameter: inches * tables.data.constants.mmPerInch, pitch: tables.data.constants.mmPerInch / fit[1] };
  };

  const parseThread = (typed) => {
    if (Array.from(typed).length > 40) throw noThread(`${Array.from(typed).length} characters are too many for a thread; ${THREAD_HINT}`);
    let text = typed.toLowerCase().replace(/[×*]/g, 'x').replace(/″/g, '"').replace(/–/g, '-').trim().split(/\s+/).join(' ');
    const leftHand = /[ -]lh$/.test(text);
    text = text.replace(/[ -]lh$/, '').replace(/ ?- ?(?:[1-8][a-h](?:[1-8][a-h])?)$/, '');
    const metric = METRIC.exec(text);
    if (metric) return metricThread(typed, metric[1], metric[2], leftHand);
    const unified = UNIFIED.exec(text);
    if (unified) return unifiedThread(typed, unified, leftHand);
    throw noThread(`\`${typed.trim()}\` is not a thread; ${THREAD_HINT}`);
  };

  /* Strengths of a grade, by its short name, at a diameter. */
  const strengthAt = (short, diameter, key = 'grade') => {
    const [name, , smallest, bands] = tables.data.grades.find((grade) => grade[1] === short);
    const band = bands.find(([over, upTo]) => over < diameter && diameter <= upTo + 1e-9);
    if (!band) {
      throw impossible(key, `${name} ends at ${shown(bands[bands.length - 1][1])} mm, and the bolt is ${shown(diameter)} mm`);
    }
    const note = diameter < smallest - 1e-9
      ? `${name} begins at ${shown(smallest)} mm; the strengths of that size are taken, so check the head marking.` : '';
    return { short, proof: band[2], yielding: band[3], tensile: band[4], source: band[5], note };
  };

  Object.assign(bench, {
    useTables, exact, shown, withUnit, general, unitText, parseQuantity, unitNamed, converted, parseThread, strengthAt,
    impossible, refusal, data: () => tables.data,
  });
})();
