// Checks an e-book with DAISY Ace and prints as JSON what it finds: `node ace.cjs EPUB FOLDER CHROMIUM`, run where the packages are.
const { createRequire } = require('node:module');
const { readFileSync } = require('node:fs');
const { join } = require('node:path');

const [, , epub, outdir, chromium] = process.argv;
process.env.PUPPETEER_EXECUTABLE_PATH = chromium;
process.env.ACE_TIMEOUT_INITIAL = '60000'; // milliseconds for a browser that starts beside other tests
const here = createRequire(join(process.cwd(), 'package.json'));
const check = here('@daisy/ace-core');

check(epub, { outdir, cwd: process.cwd(), initLogger: false, lang: 'en' }, here('@daisy/ace-axe-runner-puppeteer')).then(() => {
  const report = JSON.parse(readFileSync(join(outdir, 'report.json'), 'utf8'));
  const found = report.assertions.flatMap((page) => page.assertions.map((each) => [
    page['earl:testSubject'].url, each['earl:test']['dct:title'], each['earl:result'].html || '']));
  process.stdout.write(JSON.stringify({ outcome: report['earl:result']['earl:outcome'], found, missing: report['a11y-metadata'].missing }));
  process.exit(0);
}, (error) => {
  process.stderr.write(`${error && error.stack}\n`);
  process.exit(1);
});
