/* Light or dark: light unless asked for. The wish lives in the address (#theme=dark), follows every link as the machine
   does, and is remembered where a browser lets a page remember. Runs in the head, so that no page flashes white. */
(() => {
  'use strict';

  const KEPT = 'shearpin.theme';
  const page = document.documentElement;

  const recall = () => {
    try {
      return window.localStorage.getItem(KEPT);
    } catch (error) {
      return null;
    }
  };
  const remember = (theme) => {
    try {
      window.localStorage.setItem(KEPT, theme);
    } catch (error) {
      // the address carries the wish anyway
    }
  };

  const asked = () => {
    const found = /(?:^#|&)theme=(dark|light)(?:&|$)/.exec(location.hash);
    return found ? found[1] : null;
  };

  let dark = (asked() || recall()) === 'dark';

  const show = () => {
    if (dark) page.setAttribute('data-theme', 'dark');
    else page.removeAttribute('data-theme');
    document.querySelectorAll('[data-theme-switch]').forEach((button) => {
      button.setAttribute('aria-pressed', String(dark));
      button.hidden = false;
    });
    // A light page needs no word in its address: light is what a page is without one.
    if (window.shearpinAddress) window.shearpinAddress.carry('theme', dark ? 'dark' : '');
  };

  show();
  // A search asked for in the address: what its hits take the place of is not laid out before search.js knows it.
  if (/[?&#]q=[^&#]/.test(location.search + location.hash)) page.setAttribute('data-asked', '');
  document.addEventListener('DOMContentLoaded', () => {
    page.removeAttribute('data-asked');
    show();
    document.querySelectorAll('[data-theme-switch]').forEach((button) => {
      button.addEventListener('click', () => {
        dark = !dark;
        remember(dark ? 'dark' : 'light');
        show();
      });
    });
  });
  window.addEventListener('hashchange', () => {
    const wish = asked();
    if (wish === null || (wish === 'dark') === dark) return;
    dark = wish === 'dark';
    show();
  });
})();
