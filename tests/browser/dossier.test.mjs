// A dossier's page in a real browser: readable without scripts, accessible, safe with hostile names, fits the paper.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { launch, open, violations } from './browser.mjs';
import { Graph, hostile } from './graph.mjs';

let browser, graph;

before(async () => {
  graph = new Graph();
  graph.loadHostile();
  graph.saggar('dossier', 'shape:hub', '--output', graph.path('dossier'));
  browser = await launch();
});
after(async () => {
  await browser?.close();
  graph?.remove();
});

const page_url = () => graph.url('dossier/index.html');
const shown = (text) => text.replaceAll('\u202E', '\uFFFD').replaceAll(/\s+/g, '');

test('it asks for nothing, runs nothing and shows hostile names as text', async () => {
  const { page, context, misdeeds } = await open(browser, page_url());
  assert.deepEqual(misdeeds, []);
  assert.equal(await page.evaluate(() => document.scripts.length), 0);
  const text = shown(await page.evaluate(() => document.body.textContent));
  for (const name of hostile) assert.ok(text.includes(shown(name)), name);
  await context.close();
});

test('it reads the same without scripting', async () => {
  const { page: plain, context: one } = await open(browser, page_url(), { javaScriptEnabled: false });
  const { page: scripted, context: two } = await open(browser, page_url());
  assert.equal(await plain.innerText('body'), await scripted.innerText('body'));
  await one.close();
  await two.close();
});

test('no violation of accessibility rules', async () => {
  const { page, context } = await open(browser, page_url());
  assert.deepEqual(await violations(page), []);
  await context.close();
});

test('every note leads to its text and back', async () => {
  const { page, context } = await open(browser, page_url());
  const broken = await page.evaluate(() => [...document.querySelectorAll('a[href^="#"]')].filter((a) => !document.getElementById(a.getAttribute('href').slice(1))).length);
  assert.equal(broken, 0);
  await page.click('a[href="#note-1"]');
  assert.equal(await page.evaluate(() => location.hash), '#note-1');
  await page.click('#note-1 a[href="#mark-1"]');
  assert.equal(await page.evaluate(() => location.hash), '#mark-1');
  await context.close();
});

// Printable width at margins of 18 mm: A4 210 mm, Letter 8.5 inches.
for (const [format, width] of [['A4', (210 - 36) / 25.4 * 96], ['Letter', 8.5 * 96 - 36 / 25.4 * 96]]) {
  test(`nothing runs over the edge of ${format} paper`, async () => {
    const { page, context } = await open(browser, page_url(), { viewport: { width: Math.floor(width), height: 1000 } });
    await page.emulateMedia({ media: 'print' });
    const wide = await page.evaluate(() => [...document.querySelectorAll('body *')].filter((e) => {
      const svg = e.closest('svg');
      const box = (svg ?? e).getBoundingClientRect();
      return box.right > document.documentElement.clientWidth + 1;
    }).map((e) => `${e.localName}.${e.className}`));
    assert.deepEqual(wide, []);
    const pdf = await page.pdf({ format, printBackground: true, preferCSSPageSize: false });
    assert.ok(pdf.length > 10000);
    await context.close();
  });
}

test('on a narrow screen only pictures scroll sideways', async () => {
  const { page, context } = await open(browser, page_url(), { viewport: { width: 360, height: 700 } });
  assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= document.documentElement.clientWidth));
  await context.close();
});
