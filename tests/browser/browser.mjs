// Chromium for the tests: opens a page and keeps count of everything it should not do.
import { chromium } from 'playwright-core';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

const axeSource = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

export async function launch() {
  return chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-gpu', '--disable-dev-shm-usage'],
  });
}

// Opens `url`. `misdeeds` fills with requests to anything else, dialogs, console errors and page errors.
export async function open(browser, url, options = {}) {
  const context = await browser.newContext(options);
  const page = await context.newPage();
  const misdeeds = [];
  page.on('request', (request) => {
    if (request.url() !== url && !request.url().startsWith('data:')) misdeeds.push(`request: ${request.url()}`);
  });
  page.on('dialog', async (dialog) => {
    misdeeds.push(`dialog: ${dialog.message()}`);
    await dialog.dismiss();
  });
  page.on('console', (message) => {
    if (message.type() === 'error') misdeeds.push(`console: ${message.text()}`);
  });
  page.on('pageerror', (error) => misdeeds.push(`error: ${error.message}`));
  await page.goto(url);
  return { page, context, misdeeds };
}

// Violations of WCAG 2.2 A and AA and of good practice, as axe-core finds them.
export async function violations(page) {
  await page.evaluate(axeSource);
  const result = await page.evaluate(() => globalThis.axe.run(document, { resultTypes: ['violations'] }));
  return result.violations.map((violation) => `${violation.id}: ${violation.nodes.map((node) => node.target.join(' ')).slice(0, 3).join('; ')}`);
}
