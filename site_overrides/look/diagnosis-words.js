/* Unpacks what a symptom's script hands over: numbers as `shearpin diagnose --json --model` prints them, texts by machine. */
(() => {
  'use strict';

  const ELSE = 'something-else';

  /* Return the model of the machines of a group, as diagnosis-plan.js needs it. */
  const unpack = (data, group) => ({
    priors: group.priors,
    access_minutes: group.access || {},
    start: group.start || [],
    opened: group.opened || [],
    remedies: group.remedies || {},
    learned: group.learned || {},
    terms: data.terms,
    tests: Object.entries(group.tests || {}).map(([id, [minutes, access, classes]]) => {
      const test = data.tests[id];
      const rowOf = test.row_of || {};
      const likelihood = {};
      Object.keys(group.priors).forEach((cause) => {
        likelihood[cause] = test.rows[rowOf[cause] || 0];
      });
      return {
        id, minutes, access, classes, likelihood,
        results: test.results,
        live: Boolean(test.live),
        runs: Boolean(test.runs),
        as_found: Boolean(test.as_found),
        trial: Boolean(test.trial),
      };
    }),
  });

  const textFor = (text, machine) => (typeof text === 'string' ? text : text[machine] || '');

  const causeTitle = (data, cause) => (cause === ELSE ? 'Something not in this book' : data.causes[cause][0]);

  const percent = (chance) => {
    if (chance < 0.005) return 'under 1\u00a0%';
    return chance >= 0.995 ? 'over 99\u00a0%' : `${Math.round(chance * 100)}\u00a0%`;
  };

  /* Ours, no source; near the shares that writers' words stand for. */
  const chanceWord = (chance) => {
    if (chance >= 0.95) return 'nearly sure';
    if (chance >= 0.6) return 'likely';
    if (chance >= 0.2) return 'possible';
    return chance >= 0.05 ? 'unlikely' : 'hardly';
  };

  /* Answers in the address: test*result_test*result, in their order; a test that could not be done has no result. */
  const readAnswers = (text) => (text || '').split('_').filter(Boolean).map((piece) => {
    const [test, result = ''] = piece.split('*');
    return [test, result];
  });
  const writeAnswers = (answers) => answers.map(([test, result]) => `${test}*${result}`).join('_');

  /* One row for the repair log, as `shearpin log import` reads it. */
  const logRow = (found) => {
    const quoted = (text) => (/[",\r\n]/.test(text) ? `"${text.replace(/"/g, '""')}"` : text);
    const tests = found.answers.filter(([, result]) => result).map(([test, result]) => `${test}=${result}`).join('; ');
    const head = 'date,machine,symptom,tests,cause,minutes,note';
    const row = [found.date, found.machine, found.symptom, tests, found.cause, found.minutes, ''].map(quoted).join(',');
    return `${head}\r\n${row}\r\n`;
  };

  window.shearpinWords = { ELSE, unpack, textFor, causeTitle, percent, chanceWord, readAnswers, writeAnswers, logRow };
})();
