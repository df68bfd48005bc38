/* An edition in another language: what scripts write is said by the table of its language, as site/phrasebook.py says what stands
   in the pages. Texts that the table does not know stay; texts marked as another language are left alone. */
(() => {
  'use strict';

  const table = window.shearpinTable;
  if (!table) return;
  const known = new Map(Object.entries(table));
  const own = (english) => english.replace(/\{\d\}/g, '');
  const escaped = (text) => text.replace(/[.*+?^$()|[\]\\]/g, '\\$&');
  const place = (english) => (/^\{0\} [a-z]+$/.test(english) ? '(\\d[\\d.,]*)' : '([^]*?)'); // one word alone is counted
  const patterns = Object.keys(table).filter((english) => /\{\d\}/.test(english))
    .sort((a, b) => own(b).length - own(a).length || (a < b ? -1 : 1))
    .map((english) => [new RegExp(`^${escaped(english).replace(/\{\d\}/g, place(english))}$`), table[english]]);
  const remembered = new Map();

  const work = (english) => {
    if (known.has(english)) return known.get(english);
    for (const [pattern, phrase] of patterns) {
      const match = pattern.exec(english);
      if (match) return phrase.replace(/\{(\d)\}/g, (place, number) => piece(match[Number(number) + 1]));
    }
    return english;
  };
  const piece = (text) => (text.trim() ? text.replace(text.trim(), () => said(text.trim())) : text);
  const said = (english) => {
    if (!remembered.has(english)) {
      if (remembered.size > 5000) remembered.clear();
      remembered.set(english, work(english));
    }
    return remembered.get(english);
  };

  const foreign = (element) => !element || element.closest('[lang="en"], script, style, textarea');
  const sayText = (node) => {
    const core = node.data.trim();
    if (!core || foreign(node.parentElement)) return;
    const told = said(core);
    if (told !== core) node.data = node.data.replace(core, () => told);
  };
  const SPOKEN = ['aria-label', 'placeholder', 'label', 'title'];
  const sayAttribute = (element, name) => {
    const words = element.getAttribute(name);
    if (!words || foreign(element)) return;
    const told = said(words);
    if (told !== words) element.setAttribute(name, told);
  };
  const sayAll = (node) => {
    if (node.nodeType === Node.TEXT_NODE) sayText(node);
    if (node.nodeType !== Node.ELEMENT_NODE) return;
    const texts = document.createTreeWalker(node, NodeFilter.SHOW_TEXT);
    while (texts.nextNode()) sayText(texts.currentNode);
    SPOKEN.forEach((name) => {
      sayAttribute(node, name);
      node.querySelectorAll(`[${name}]`).forEach((element) => sayAttribute(element, name));
    });
  };

  new MutationObserver((changes) => changes.forEach((change) => {
    if (change.type === 'characterData') sayText(change.target);
    else if (change.type === 'attributes') sayAttribute(change.target, change.attributeName);
    else change.addedNodes.forEach(sayAll);
  })).observe(document.documentElement, { childList: true, characterData: true, subtree: true, attributes: true, attributeFilter: SPOKEN });

  window.shearpinSay = said;  // for what no page shows, such as the words of a calendar file
})();
