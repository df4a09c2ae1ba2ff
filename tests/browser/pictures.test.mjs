// Pictures in a real browser: names stay text, nothing runs, nothing is fetched, words fit their boxes, keys reach everything.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { launch, open, violations } from './browser.mjs';
import { Graph, hostile } from './graph.mjs';
import { readFileSync } from 'node:fs';

let browser, graph;
const pictures = [
  ['around', ['around', 'shape:hub']],
  ['weigh', ['weigh', 'shape:hub has-feature feature:f3', '--whole']],
  ['dispute', ['dispute', 'shape:hub has-feature feature:f3', 'shape:hub has-feature feature:f8']],
  ['comb', ['around', 'shape:many']],
  ['runs', ['runs', 'shape:hub']],
  ['date', ['date', 'shape:hub']],
  ['grid', ['grid', 'shape:hub', '--relation', 'has-feature']],
];

before(async () => {
  graph = new Graph();
  graph.loadHostile();
  for (const [name, words] of pictures) graph.saggar('draw', ...words, '--output', graph.path(`${name}.svg`));
  browser = await launch();
});
after(async () => {
  await browser?.close();
  graph?.remove();
});

const shown = (text) => text.replaceAll('\u202E', '\uFFFD').replaceAll(/\s+/g, '');

for (const [name] of pictures) {
  test(`${name}: opened as a file it runs nothing and fetches nothing`, async () => {
    const { page, context, misdeeds } = await open(browser, graph.url(`${name}.svg`));
    assert.deepEqual(misdeeds, []);
    const bad = await page.evaluate(() =>
      [...document.querySelectorAll('*')].filter((e) => ['script', 'style', 'image', 'a', 'foreignObject', 'use'].includes(e.localName) ||
        [...e.attributes].some((a) => a.name.startsWith('on') || a.name.includes('href') || a.name === 'style')).length);
    assert.equal(bad, 0);
    await context.close();
  });

  test(`${name}: every text lies inside the sheet as the browser measures it`, async () => {
    const { page, context } = await open(browser, graph.url(`${name}.svg`));
    const outside = await page.evaluate(() => {
      const sheet = document.documentElement.viewBox.baseVal;
      return [...document.querySelectorAll('text')].filter((t) => {
        const box = t.getBBox();
        return box.x < 0 || box.y < 0 || box.x + box.width > sheet.width || box.y + box.height > sheet.height;
      }).map((t) => t.textContent);
    });
    assert.deepEqual(outside, []);
    await context.close();
  });

  test(`${name}: no violation of accessibility rules`, async () => {
    const svg = readFileSync(graph.path(`${name}.svg`), 'utf8');
    graph.write(`${name}.html`, `<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><title>${name}</title></head><body><main><h1>${name}</h1>${svg}</main></body></html>`);
    const { page, context, misdeeds } = await open(browser, graph.url(`${name}.html`));
    assert.deepEqual(await violations(page), []);
    assert.deepEqual(misdeeds, []);
    await context.close();
  });
}

test('every hostile name stands in the picture as text', async () => {
  const { page, context } = await open(browser, graph.url('around.svg'));
  const text = shown(await page.evaluate(() => document.documentElement.textContent));
  for (const name of hostile) assert.ok(text.includes(shown(name)), name);
  await context.close();
});

test('words fit their boxes as the browser measures them', async () => {
  const { page, context } = await open(browser, graph.url('around.svg'));
  const outside = await page.evaluate(() => [...document.querySelectorAll('g.node')].flatMap((node) => {
    const outline = node.querySelector('rect, path')?.getBBox();
    if (!outline) return [];
    return [...node.querySelectorAll('text')].filter((t) => {
      const box = t.getBBox();
      return box.x < outline.x || box.x + box.width > outline.x + outline.width;
    }).map((t) => t.textContent);
  }));
  assert.deepEqual(outside, []);
  await context.close();
});

test('boxes do not overlap as the browser measures them', async () => {
  const { page, context } = await open(browser, graph.url('around.svg'));
  const overlaps = await page.evaluate(() => {
    const boxes = [...document.querySelectorAll('g.node')].map((node) => node.querySelector('rect, path')?.getBBox()).filter(Boolean);
    let count = 0;
    boxes.forEach((a, i) => boxes.slice(i + 1).forEach((b) => {
      if (a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height) ++count;
    }));
    return count;
  });
  assert.equal(overlaps, 0);
  await context.close();
});

test('the keyboard reaches boxes, then lines, in the order of the diagram', async () => {
  const { page, context } = await open(browser, graph.url('weigh.svg'));
  const expected = await page.evaluate(() => [...document.querySelectorAll('[tabindex="0"]')].map((e) => e.id));
  const reached = [];
  for (let i = 0; i < expected.length; ++i) {
    await page.keyboard.press('Tab');
    reached.push(await page.evaluate(() => document.activeElement?.id));
  }
  assert.deepEqual(reached, expected);
  const firstLine = expected.findIndex((id) => id.startsWith('s-e'));
  assert.ok(firstLine > 0 && expected.slice(firstLine).every((id) => id.startsWith('s-e')));
  await context.close();
});
