// Writes what the npm package edtf 4.11.1 (BSD-2-Clause) says about dates it reads as the specification does.
//
//   cd tests/browser && npm ci --ignore-scripts && cd ../..
//   node tests/reference/edtf_npm.mjs > tests/reference/edtf_npm.json
//   node tests/reference/edtf_npm.mjs --check        compares with the file; exit status 1 where they differ
//
// Left out, because the package departs from the specification there: days that do not exist (it rolls them over, also in
// patterns such as 19XX-02-29), year 0000 (its February is that of 1900), X in negative years (first and last change places), sets (cut short), Y years (undefined),
// seasons (no choice of months), open and unknown ends.
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';

const require = createRequire(new URL('../browser/package.json', import.meta.url));
const { default: edtf } = require('edtf');
const version = JSON.parse(readFileSync(new URL('../browser/node_modules/edtf/package.json', import.meta.url))).version;

const two = (n) => String(n).padStart(2, '0');
const texts = [];
for (const year of ['1900', '1935', '1936', '2000', '0043', '9999', '-0043', '-1985']) {
  texts.push(year, year + '?', year + '~', year + '%', year + '-XX', year + '-XX-XX', year + '-1X', year + '-0X');
  for (let month = 1; month <= 12; month++) {
    const days = new Date(Date.UTC(2000 + Math.abs(Number(year)) % 400, month, 0)).getUTCDate();
    texts.push(`${year}-${two(month)}`, `${year}-${two(month)}~`, `${year}-${two(month)}-XX`, `${year}-${two(month)}-1X`);
    for (const day of [1, 9, 28, days]) texts.push(`${year}-${two(month)}-${two(day)}`, `${year}-${two(month)}-${two(day)}?`);
  }
}
for (const year of ['193X', '19XX', '1XXX', '200X', '156X', '15XX']) {
  texts.push(year, year + '-XX', year + '-12-25', year + '-07', year + '-12-XX');
}
const ends = ['1931', '1931-02', '1932-02', '1932-02-29', '1934', '1934-12-31', '1935-06', '2004-06-11'];
for (const a of ends) for (const b of ends) if (a.slice(0, 4) < b.slice(0, 4)) texts.push(`${a}/${b}`, `${a}~/${b}?`);

const day = (ms) => {
  const d = new Date(ms);
  const year = d.getUTCFullYear();
  return `${year < 0 ? '-' : ''}${String(Math.abs(year)).padStart(4, '0')}-${two(d.getUTCMonth() + 1)}-${two(d.getUTCDate())}`;
};
const safe = [...new Set(texts)].filter((text) => !(text.startsWith('-') && text.includes('X')));
const rows = safe.map((text) => {
  const value = edtf(text);
  return `    {"text": "${text}", "first": "${day(value.min)}", "last": "${day(value.max)}"}`;
});
const out = `{
  "package": "edtf ${version}",
  "command": "node tests/reference/edtf_npm.mjs > tests/reference/edtf_npm.json",
  "dates": [
${rows.join(',\n')}
  ]
}
`;
if (process.argv[2] === '--check') {
  const file = fileURLToPath(new URL('edtf_npm.json', import.meta.url));
  if (readFileSync(file, 'utf8') !== out) {
    console.error(`${file} is not what this script writes`);
    process.exit(1);
  }
} else {
  process.stdout.write(out);
}
