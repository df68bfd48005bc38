/* Searches that found nothing: kept on this computer for the writer, where the browser lets a page remember, and listed on
   the coverage page together with lists that others have saved (here, or by `shearpin find --misses`). */
(() => {
  'use strict';

  const MOST_KEPT = 200;
  const LONGEST = 120;
  const NAME = 'shearpin.misses';
  // What looks like an address or a telephone number would be a customer's.
  const PRIVATE = /\S+@\S+|\+?\(?\d{3}\)?[-. ]?\d{3}[-. ]\d{4}\b|\b\d{10,}\b/g;

  // Pairs of a query and how often it found nothing, the oldest first.
  const readMisses = () => {
    try {
      const kept = JSON.parse(window.localStorage.getItem(NAME) || '[]');
      return Array.isArray(kept) ? kept.filter((miss) => Array.isArray(miss) && miss.length === 2) : [];
    } catch (error) {
      return [];
    }
  };

  const keepMiss = (query) => {
    const said = query.replace(PRIVATE, ' ').replace(/\s+/g, ' ').trim().slice(0, LONGEST).trim();
    if (!said) return;
    const misses = readMisses();
    const before = misses.find((miss) => miss[0] === said);
    const others = misses.filter((miss) => miss !== before);
    others.push([said, (before ? Number(before[1]) || 0 : 0) + 1]);
    try {
      window.localStorage.setItem(NAME, JSON.stringify(others.slice(-MOST_KEPT)));
    } catch (error) {
      // nothing is lost but the note
    }
  };

  const missesLink = (misses) => {
    const link = document.createElement('a');
    link.textContent = `Save ${misses.length === 1 ? 'the search' : `the list of ${misses.length} searches`} that found nothing`;
    const lines = misses.map(([query, times]) => `${times}\t${query}\r\n`).join('');
    link.href = `data:text/plain;charset=utf-8,${encodeURIComponent(lines)}`;
    link.download = 'searched-in-vain.txt';
    return link;
  };

  window.shearpinMisses = { readMisses, keepMiss, missesLink };

  /* ---- the coverage page ---------------------------------------------------------------------------------------------- */

  const place = document.querySelector('[data-misses]');
  if (!place) return;
  const [field, status, list] = ['input', '[role=status]', 'ol'].map((name) => place.querySelector(name));
  const counts = new Map();

  const add = (query, times) => counts.set(query, (counts.get(query) || 0) + times);

  const show = () => {
    const rows = Array.from(counts).sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1));
    list.textContent = '';
    rows.forEach(([query, times]) => {
      const item = document.createElement('li');
      const link = document.createElement('a');
      link.textContent = query;
      link.href = `${document.documentElement.dataset.root || ''}search.html#q=${encodeURIComponent(query)}`;
      item.append(link, times === 1 ? '' : ` (${times} times)`);
      list.append(item);
    });
    status.textContent = rows.length === 1 ? '1 search found nothing.' : `${rows.length} searches found nothing.`;
  };

  readMisses().forEach(([query, times]) => add(query, Number(times) || 1));
  place.hidden = false;
  show();
  field.addEventListener('change', () => {
    Promise.all(Array.from(field.files, (file) => new Promise((resolve) => {
      const reader = new FileReader();
      reader.onload = () => resolve(reader.result);
      reader.onerror = () => resolve('');
      reader.readAsText(file);
    }))).then((texts) => {
      texts.join('\n').split(/\r?\n/).forEach((line) => {
        const parts = /^([0-9]{1,6})\t(.+)$/.exec(line);
        if (parts) add(parts[2].slice(0, LONGEST), Number(parts[1]));
      });
      field.value = '';
      show();
    });
  });
})();
