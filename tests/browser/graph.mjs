// A graph for the tests: a few claims among things whose names try everything a name should not do.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const bin = process.env.SAGGAR_BIN_DIR ?? join(import.meta.dirname ?? '.', '../../build/bin');

export const hostile = [
  '<script>alert(1)</script>',
  '<img src=x onerror=alert(2)>',
  '"x" onload="alert(3)" y=\'z\'',
  'name \\N graph \\G left \\l',
  '&#92;N &lt;b&gt; &amp;amp;',
  ']]> <!-- --> <![CDATA[ <style>*{display:none}</style>',
  'javascript:alert(4)',
  'شكل الفانوس (Lantern) 1934',
  'פנס, shape 7',
  'turned \u202Eround',
  'w'.repeat(500),
  'teapot 🫖 and family 👨‍👩‍👧',
  '<b>Lantern</b>',
  '<TABLE><TR><TD>x</TD></TR></TABLE>',
  'Sèvres 青花 Ấm trà',
];

const cell = (text) => `"${text.replaceAll('"', '""')}"`;

export class Graph {
  constructor() {
    this.folder = mkdtempSync(join(tmpdir(), 'saggar-browser-'));
    this.graph = join(this.folder, 'graph');
    this.saggar('start', '--author', 'tester');
  }
  saggar(...words) {
    return execFileSync(join(bin, 'saggar'), ['--graph', this.graph, ...words], { encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] });
  }
  path(name) {
    return join(this.folder, name);
  }
  url(name) {
    return `file://${this.path(name)}`;
  }
  write(name, text) {
    writeFileSync(this.path(name), text);
    return this.path(name);
  }
  remove() {
    rmSync(this.folder, { recursive: true, force: true });
  }

  loadHostile() {
    const entities = ['key,label,remark', `shape:hub,${cell(hostile[0])},${cell(hostile[1])}`];
    const sources = ['key,title,type,author,collection,archive'];
    const claims = ['subject,relation,object,stance,source,at,quote'];
    hostile.forEach((text, i) => {
      entities.push(`feature:f${i},${cell(text)},${cell(text)}`);
      sources.push(`source:s${i},${cell(text)},memo,${cell(text)},${cell(text)},${cell(text)}`);
      claims.push(`shape:hub,has-feature,feature:f${i},for,source:s${i},${cell(text)},${cell(text)}`);
      claims.push(`shape:hub,has-feature,feature:f${i},against,source:s${(i + 1) % hostile.length},page=1,`);
    });
    // So many that they are set in a comb.
    entities.push(`shape:many,${cell(hostile[2])},`);
    for (let i = 0; i < 60; ++i) {
      entities.push(`article:a${i},${cell(hostile[i % hostile.length])},`);
      claims.push(`shape:many,comprises,article:a${i},for,source:s0,page=${i},`);
    }
    claims.push('shape:hub,introduced-in,1936-01,for,source:s0,,');
    this.saggar('load', this.write('entities.csv', entities.join('\n') + '\n'), this.write('sources.csv', sources.join('\n') + '\n'));
    this.saggar('load', this.write('claims.csv', claims.join('\n') + '\n'));
  }
}
