// Prints as JSON what the scripts named on the command line say to people: their strings, with {0}, {1} … where something is filled in.
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

const acorn = createRequire(process.argv[2])('acorn');
const found = {};

const SPOKEN = new Set(['aria-label', 'placeholder', 'title', 'label', 'alt']);
const isWords = (text) => !/^[#.@[]/.test(text) && /[A-Za-z]{2}/.test(text.replace(/\{\d+\}/g, '')) && (/[a-z] [a-z“{]|[a-z}] [a-z]/i.test(text) || /^[ ,(]*[A-Z][a-z]+[ .:)]*$/.test(text));
const keyOf = (node) => {
  if (node.type === 'Literal') return typeof node.value === 'string' ? node.value : null;
  return node.quasis.map((quasi, index) => quasi.value.cooked + (index < node.expressions.length ? `{${index}}` : '')).join('');
};
const skipped = (node, parent) =>
  (parent.type === 'Property' && parent.key === node) || parent.type === 'TaggedTemplateExpression'
  || (parent.type === 'Property' && parent.key.type === 'Literal' && !SPOKEN.has(parent.key.value))
  || (parent.type === 'Property' && ['class', 'style', 'type', 'for', 'id', 'href'].includes(parent.key.name))
  || (parent.type === 'BinaryExpression' && /^[!=]==$/.test(parent.operator))
  || (parent.type === 'CallExpression' && parent.callee.type === 'MemberExpression'
      && /^(querySelector|querySelectorAll|addEventListener|getAttribute|setAttribute|closest|matches|test|includes|has|get|startsWith|endsWith|split)$/.test(parent.callee.property.name));

const walk = (node, parent, file) => {
  if (!node || typeof node.type !== 'string') return;
  if (node.type === 'NewExpression' && /Error$/.test(node.callee.name || '')) return;
  if ((node.type === 'Literal' || node.type === 'TemplateLiteral') && !skipped(node, parent)) {
    const key = keyOf(node);
    if (key !== null && isWords(key)) found[key.trim()] = file;
  }
  Object.entries(node).forEach(([name, child]) => {
    if (name === 'parent') return;
    (Array.isArray(child) ? child : [child]).forEach((each) => { if (each && typeof each === 'object') walk(each, node, file); });
  });
};

process.argv.slice(3).forEach((file) => walk(acorn.parse(readFileSync(file, 'utf8'), { ecmaVersion: 2020 }), {}, file.split('/').pop()));
process.stdout.write(JSON.stringify(found, null, 1));
