// Plays lists of actions in stock Firefox over WebDriver BiDi and reports what came of each list.
//
// usage: node firefox.mjs EXECUTABLE
//
// Standard input brings one request a line, standard output answers each with one line; Firefox starts once, and
// every request gets a page of its own that shares no storage with the others.
//   request: {"width": PIXELS, "height": PIXELS, "actions": [ACTION, ...]}
//   answer:  {"results": [...], "requests": [...], "errors": [...]}
// An action is an object with one key:
//   {"goto": URL}  {"click": SELECTOR}  {"press": KEY}  {"waitFor": SELECTOR}  {"screenshot": PATH}  {"print": PATH}
//   {"type": {"into": SELECTOR, "text": TEXT}}  {"evaluate": EXPRESSION}
// "results" holds one entry per action played (null where there is nothing to tell), "requests" every address asked
// for outside the files, "errors" every script error. A failed action ends its list; "failed" says which and why.

import { createInterface } from 'node:readline';
import puppeteer from 'puppeteer-core';

const WAIT_MS = 15_000;
const LOCAL_SCHEMES = new Set(['about:', 'blob:', 'data:', 'file:']);

// A proxy on a port that nothing listens on: whatever a page asks of the network fails at once, on this machine.
const NO_NETWORK = {
  'network.proxy.type': 1,
  'network.proxy.http': '127.0.0.1',
  'network.proxy.http_port': 9,
  'network.proxy.ssl': '127.0.0.1',
  'network.proxy.ssl_port': 9,
  'network.proxy.socks': '127.0.0.1',
  'network.proxy.socks_port': 9,
  'network.proxy.no_proxies_on': '',
  'network.dns.disabled': true,
  'network.captive-portal-service.enabled': false,
  'network.connectivity-service.enabled': false,
};

const ACTIONS = {
  goto: async (page, url) => void (await page.goto(url, { waitUntil: 'load' })),
  click: (page, selector) => page.locator(selector).click(),
  press: (page, key) => page.keyboard.press(key),
  waitFor: async (page, selector) => void (await page.waitForSelector(selector)),
  type: async (page, { into, text }) => {
    await page.focus(into);
    await page.keyboard.type(text);
  },
  evaluate: (page, expression) => page.evaluate(expression),
  screenshot: async (page, path) => void (await page.screenshot({ path })),
  print: async (page, path) => void (await page.pdf({ path, format: 'a4' })),
};

async function perform(page, actions, results) {
  for (const [index, action] of actions.entries()) {
    const [name, ...rest] = Object.keys(action);
    if (rest.length > 0 || !Object.hasOwn(ACTIONS, name)) {
      throw new Error(`action ${index}: expected one of ${Object.keys(ACTIONS).join(', ')}; found ${Object.keys(action)}`);
    }
    try {
      results.push((await ACTIONS[name](page, action[name])) ?? null);
    } catch (error) {
      throw new Error(`action ${index}, ${JSON.stringify(action)}: ${error.message}`);
    }
  }
}

async function play(browser, { width, height, actions }) {
  const report = { results: [], requests: [], errors: [] };
  const context = await browser.createBrowserContext();
  try {
    const page = await context.newPage();
    await page.setViewport({ width, height });
    page.setDefaultTimeout(WAIT_MS);
    page.on('request', (request) => {
      if (!LOCAL_SCHEMES.has(new URL(request.url()).protocol)) report.requests.push(request.url());
    });
    page.on('pageerror', (error) => report.errors.push(error.message));
    page.on('console', (message) => {
      if (message.type() === 'error') report.errors.push(message.text());
    });
    await perform(page, actions, report.results);
  } catch (error) {
    report.failed = error.message;
  } finally {
    await context.close();
  }
  return report;
}

const browser = await puppeteer.launch({
  browser: 'firefox',
  executablePath: process.argv[2],
  headless: true,
  extraPrefsFirefox: NO_NETWORK,
});
try {
  for await (const line of createInterface({ input: process.stdin })) {
    process.stdout.write(JSON.stringify(await play(browser, JSON.parse(line))) + '\n');
  }
} finally {
  await browser.close();
}
