/* The machine on the bench: chosen once, it lives in the address (#machine=id), follows every link, and decides which
   of the figures and passages that a page already holds are shown. Without a choice a page stays as delivered. */
(() => {
  'use strict';

  const KEPT = 'shearpin.machine';
  const page = document.documentElement;
  const choice = document.querySelector('[data-machine-choice]');
  if (!choice) return;

  const titles = new Map(window.shearpinMachines || []);
  choice.append(...Array.from(titles, ([id, title]) => new Option(title, id)));
  let chosen = '';

  /* ---- the address ------------------------------------------------------------------------------------------------ */

  // A hash is either parameters (#machine=x&at=steps) or the plain name of a place on the page (#steps).
  const readHash = (hash) => {
    const bare = hash.replace(/^#/, '');
    if (bare.includes('=')) return new URLSearchParams(bare);
    return new URLSearchParams(bare ? [['at', decoded(bare)]] : []);
  };

  const decoded = (text) => {
    try {
      return decodeURIComponent(text);
    } catch (error) {
      return text;
    }
  };

  // What other scripts let follow every link, as the machine does.
  const carried = new Map();

  // Other parameters stay; a place alone stays a plain hash, which works without scripts too.
  const withMachine = (hash, carries = true) => {
    const parameters = readHash(hash);
    const at = parameters.get('at');
    parameters.delete('at');
    const put = (value, name) => {
      parameters.delete(name);
      if (value) parameters.set(name, value);
    };
    if (carries) carried.forEach(put);
    put(chosen, 'machine');
    const others = parameters.toString();
    if (!at) return others && `#${others}`;
    return others ? `#${others}&at=${encodeURIComponent(at)}` : `#${encodeURIComponent(at)}`;
  };

  const isInternal = (link) =>
    link.protocol === location.protocol && link.host === location.host && !link.hasAttribute('download');

  const carry = (link) => {
    if (!isInternal(link)) return;
    const hash = withMachine(link.hash, !link.hasAttribute('data-add-to-job'));
    // In the attribute, for the property would make a relative link absolute.
    if (hash !== link.hash) link.setAttribute('href', link.getAttribute('href').replace(/#.*$/, '') + hash);
  };

  // With nothing to carry, only a link that has a hash may have something to lose.
  const carryAll = () => {
    const carries = chosen !== '' || Array.from(carried.values()).some((value) => value !== '');
    document.querySelectorAll(carries ? 'a[href]' : 'a[href*="#"]').forEach(carry);
  };

  const linkOf = (event) => (event.target instanceof Element ? event.target.closest('a[href]') : null);

  /* ---- memory: a bonus, where the browser lets a page from a folder remember anything ------------------------------- */

  const recall = (store) => {
    try {
      return window[store].getItem(KEPT);
    } catch (error) {
      return null;
    }
  };

  // The tab remembers that no machine is chosen, too; the computer remembers the last one that was.
  const remember = () => {
    try {
      window.sessionStorage.setItem(KEPT, chosen);
      if (chosen) window.localStorage.setItem(KEPT, chosen);
    } catch (error) {
      // the address carries the choice anyway
    }
  };

  // What another day chose stands first in the list and is never applied by itself: today's machine may be another.
  const offerLast = () => {
    const last = recall('localStorage');
    if (!titles.has(last)) return;
    const group = document.createElement('optgroup');
    group.label = 'Last worked on';
    group.append(new Option(titles.get(last), last));
    choice.insertBefore(group, choice.options[1]);
  };

  /* ---- what a choice does to a page --------------------------------------------------------------------------------- */

  const each = (selector, act) => document.querySelectorAll(selector).forEach(act);
  const lists = (element, name) => element.getAttribute(name).split(' ').includes(chosen);
  const misses = (element, name) => chosen !== '' && !lists(element, name);

  const note = (element, css, words) => {
    const made = document.createElement(element);
    made.className = css;
    made.setAttribute('data-machine-note', '');
    made.textContent = words;
    return made;
  };
  const notYours = () => note('span', 'not-yours', ` not for the ${titles.get(chosen)}`);

  // Steps take their figure from the table of the page, where each machine has its own.
  const tabledFigure = (set) => {
    const name = set.getAttribute('data-value-set');
    const cell = chosen && document.querySelector(`td[data-value="${name}"][data-machine~="${chosen}"]`);
    if (!cell) return [];
    const figure = document.createElement('span');
    Object.entries({ class: 'value', 'data-value': name, 'data-machine': chosen, 'data-machine-note': '' })
      .forEach(([key, value]) => figure.setAttribute(key, value));
    figure.append(...Array.from(cell.cloneNode(true).childNodes));
    set.append(figure);
    return [figure];
  };

  const showFigure = (set) => {
    let figures = Array.from(set.querySelectorAll('[data-value][data-machine]'));
    if (!figures.length) figures = tabledFigure(set);
    figures.forEach((figure) => {
      figure.hidden = figure.getAttribute('data-machine') !== chosen;
    });
    const any = set.querySelector('[data-any-machine]');
    if (!any) return;
    any.hidden = figures.some((figure) => !figure.hidden);
    // Figures of other machines must not be read as this one's.
    if (chosen && !any.hidden) any.before(notYours());
  };

  // A sentence stands for all machines with the same reason against them, with a mark where the chosen one is named.
  const sentences = new Map();

  const showMisfit = () => {
    let said = false;
    each('[data-misfit]', (sentence) => {
      if (!sentences.has(sentence)) sentences.set(sentence, sentence.textContent);
      sentence.hidden = !chosen || !lists(sentence, 'data-misfit');
      if (!sentence.hidden) sentence.textContent = sentences.get(sentence).replace('…', () => titles.get(chosen));
      said = said || !sentence.hidden;
    });
    const article = document.querySelector('article[data-fits]');
    if (said || !article || !misses(article, 'data-fits')) return;
    // Far below the sentence a screen holds nothing but figures of another machine.
    each('.sheets h2, [data-kind="engine"] #values h2', (heading) => heading.append(notYours()));
    const sentence = `You work on the ${titles.get(chosen)}, and this page is not about it.`;
    article.prepend(note('p', 'misfit', sentence));
  };

  // A heading or a part whose every row is hidden would stand there without its figure.
  const hideEmpty = () => {
    each('tbody', (group) => {
      const rows = Array.from(group.querySelectorAll('tr[data-for]'));
      group.hidden = rows.length > 0 && rows.length + 1 >= group.rows.length && rows.every((row) => row.hidden);
    });
    each('.table-scroll', (box) => {
      const rows = Array.from(box.querySelectorAll('tbody tr'));
      box.hidden = rows.length > 0 && rows.every((row) => row.hidden || row.parentElement.hidden);
      if (box.hidden) box.before(notYours());
    });
    each('ul.numbers, #used-by > ul, #proof > ul, #cures > ul', (list) => {
      if (Array.from(list.children).every((entry) => entry.hidden)) list.before(notYours());
    });
  };

  const markEntries = () => {
    each('li[data-fits], tr[data-fits]', (entry) => {
      const link = entry.querySelector('a');
      if (link && misses(entry, 'data-fits')) link.after(notYours());
    });
    each('[data-row-machine]', (row) => {
      row.classList.toggle('your-machine', row.getAttribute('data-row-machine') === chosen);
      row.classList.toggle('other-machine', misses(row, 'data-row-machine'));
    });
  };

  const apply = () => {
    each('[data-machine-note]', (element) => element.remove());
    each('[data-for]', (element) => {
      element.hidden = misses(element, 'data-for');
    });
    each('.value-set', showFigure);
    showMisfit();
    hideEmpty();
    markEntries();
    each('[data-machine-page]', (link) => {
      link.hidden = !chosen;
      link.setAttribute('href', link.getAttribute('href').replace(/[^/]*$/, `${chosen || 'index'}.html`));
    });
    each('[data-choose-machine]', (button) => {
      button.hidden = button.getAttribute('data-choose-machine') === chosen;
    });
    const heading = document.querySelector('h1');
    each('[data-print-machine]', (element) => {
      const machine = titles.get(chosen) || 'All machines';
      const title = heading ? heading.textContent : '';
      // The pages of a machine are called by it already, whichever is chosen.
      const ofOne = document.querySelector('article[data-kind="machine"], .sheets');
      element.textContent = ofOne || title.startsWith(machine) ? title : `${machine}${title && ': '}${title}`;
    });
    if (chosen) page.setAttribute('data-machine-chosen', chosen);
    else page.removeAttribute('data-machine-chosen');
    choice.value = chosen;
    carryAll();
    const detail = { id: chosen, title: titles.get(chosen) || '' };
    document.dispatchEvent(new CustomEvent('shearpin:machine', { detail }));
  };

  const goTo = (at) => {
    const place = at && document.getElementById(at);
    if (!place || place.contains(document.activeElement)) return;
    if (!place.hasAttribute('tabindex')) place.setAttribute('tabindex', '-1');
    place.focus({ preventScroll: true });
    place.scrollIntoView();
  };

  // A plain place is the browser's own business.
  const goToAddress = () => {
    if (location.hash.includes('=')) goTo(readHash(location.hash).get('at'));
  };

  /* ---- choosing ------------------------------------------------------------------------------------------------------- */

  const say = (words) => {
    each('[data-machine-problem]', (element) => {
      element.textContent = words;
      element.hidden = words === '';
    });
  };

  const askedFor = () => readHash(location.hash).get('machine');

  const fromAddress = () => {
    const asked = askedFor() || '';
    say(asked === '' || titles.has(asked) ? '' : `This book has no machine “${asked}”. No machine is chosen.`);
    return titles.has(asked) ? asked : '';
  };

  // The mark on the entry of the history tells a return to it from a new address.
  const visit = (hash) => {
    const state = Object.assign({}, history.state, { visited: true });
    history.replaceState(state, '', location.pathname + location.search + hash);
  };

  const set = (id) => {
    say('');
    chosen = titles.has(id) ? id : '';
    visit(withMachine(location.hash));
    remember();
    apply();
  };

  const start = (goneBack) => {
    const asked = askedFor();
    const ofTab = recall('sessionStorage');
    chosen = fromAddress();
    // Going back must not bring back a machine that was changed on a later page of this tab.
    if (goneBack && ofTab !== null) set(ofTab);
    else if (asked === null && titles.has(ofTab)) set(ofTab);
    else {
      if (asked !== null) remember();
      apply();
    }
    visit(location.hash);
  };

  choice.addEventListener('change', () => set(choice.value));

  window.addEventListener('hashchange', () => {
    const returned = history.state !== null && history.state.visited;
    if (returned || (askedFor() === null && chosen)) set(chosen);
    else if (fromAddress() !== chosen) start(false);
    else visit(location.hash);
    goToAddress();
  });

  window.addEventListener('pageshow', (event) => {
    if (event.persisted) start(true);
  });

  // Links that other scripts put in are given the machine when they are about to be used.
  ['pointerdown', 'focusin', 'click'].forEach((kind) => {
    document.addEventListener(kind, (event) => {
      const link = linkOf(event);
      if (link) carry(link);
    }, true);
  });

  document.addEventListener('click', (event) => {
    const button = event.target instanceof Element && event.target.closest('[data-choose-machine]');
    if (button) set(button.getAttribute('data-choose-machine'));
    // A second tap on the same place changes no address, and is meant all the same.
    const link = linkOf(event);
    if (link && link.href === location.href) goToAddress();
  });

  // A row of values says in the cell of its figure, and only there, for which machine it is.
  each('td[data-machine]', (cell) => {
    const row = cell.parentElement;
    if (!row.hasAttribute('data-row-machine') && !row.hasAttribute('data-for')) row.setAttribute('data-for', cell.getAttribute('data-machine'));
  });

  each('[data-machine-bar]', (bar) => {
    bar.hidden = false;
  });
  page.classList.remove('no-js');
  window.shearpinMachine = { get: () => chosen, set };
  document.dispatchEvent(new CustomEvent('shearpin:known'));
  const here = (name, value) => {
    const parameters = readHash(location.hash);
    parameters.delete(name);
    if (value) parameters.set(name, value);
    const hash = withMachine(`#${parameters}`);
    if (hash !== location.hash) visit(hash);
  };
  window.shearpinAddress = {
    parameters: readHash,
    here,
    carry: (name, value) => {
      carried.set(name, value);
      here(name, value);
      carryAll();
    },
    setIn: (link, name, value) => {
      const parameters = readHash(link.hash);
      parameters.set(name, value);
      link.setAttribute('href', `${link.getAttribute('href').replace(/#.*$/, '')}#${parameters}`);
      carry(link);
    },
  };
  offerLast();
  const [arrival] = performance.getEntriesByType('navigation');
  start(arrival !== undefined && arrival.type === 'back_forward');
  goToAddress();
})();
