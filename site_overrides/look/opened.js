/* Pages opened last, for the front page: kept by this browser alone, for this copy of the manual, and cleared by a tap. */
(() => {
  'use strict';

  const MOST = 6;
  const root = new URL(document.documentElement.getAttribute('data-root') || './', location.href);
  const KEPT = `shearpin.opened:${root.protocol}//${root.host}${root.pathname}`;

  const recall = () => {
    try {
      const found = JSON.parse(window.localStorage.getItem(KEPT));
      return Array.isArray(found) ? found.filter((entry) => entry && /^[a-z]+\/[a-z0-9.-]+\.html$/.test(entry.url)) : [];
    } catch (error) {
      return [];
    }
  };
  const remember = (entries) => {
    try {
      if (entries.length > 0) window.localStorage.setItem(KEPT, JSON.stringify(entries));
      else window.localStorage.removeItem(KEPT);
    } catch (error) {
      // a list of the last pages is a bonus
    }
  };

  const article = document.querySelector('article[data-kind]:not([data-kind="page"])');
  const heading = article && article.querySelector('h1');
  if (heading) {
    const url = location.pathname.slice(root.pathname.length);
    const entry = { url, title: heading.textContent };
    remember([entry].concat(recall().filter((other) => other.url !== url)).slice(0, MOST));
  }

  const place = document.querySelector('[data-opened]');
  if (!place) return;
  const list = place.querySelector('ul');
  const show = () => {
    const entries = recall();
    list.textContent = '';
    entries.forEach((entry) => {
      const item = document.createElement('li');
      const link = document.createElement('a');
      link.href = entry.url;
      link.textContent = String(entry.title);
      item.append(link);
      list.append(item);
    });
    place.hidden = entries.length === 0;
  };
  place.querySelector('button').addEventListener('click', () => {
    remember([]);
    show();
  });
  show();
})();
