import { readFileSync } from 'node:fs';
import { seal } from '../seal.js';
import { AUDITOR_CHECKLIST } from './auditor-checklist.js';
import { checklistTables } from '../spec-support/checklist-table.js';

const guide = readFileSync(new URL('../../../docs/guide/auditors.md', import.meta.url), 'utf8');

/** Without what a formatter may do to a table. */
function plain(table: string): readonly string[] {
  return table
    .split('\n')
    .map((line) => line.replaceAll(/\s+/g, ' ').replaceAll(/-{3,}/g, '---').trim())
    .filter((line) => line !== '');
}

describe('docs/guide/auditors.md', () => {
  it('has the checklist as the data have it', () => {
    const [, printed = ''] = /<!-- checklist[^>]*-->([^]*)<!-- end of checklist -->/.exec(guide) ?? [];
    expect(plain(printed)).toEqual(plain(checklistTables(AUDITOR_CHECKLIST)));
  });

  it('has an example by hand that comes to what it says', () => {
    const [, canonical = ''] = /printf '%s' '([^']+)' \| sha256sum/.exec(guide) ?? [];
    const [, printed] = /It prints `([0-9a-f]{64})`/.exec(guide) ?? [];
    expect(seal.sha256Hex(canonical)).toBe(printed);
  });

  it('claims no compliance', () => {
    expect(guide).toContain('Nothing on it says that a house, or this product, complies with any standard.');
    const said = JSON.stringify(AUDITOR_CHECKLIST);
    expect(said).not.toMatch(/\b(compl(y|ies|iant|iance)|certified|fulfil)/i);
  });
});

describe('the checklist', () => {
  it('has the clauses that it is to have', () => {
    const clauses = new Set(AUDITOR_CHECKLIST.map(({ clause }) => clause));
    const part11 = ['(a)', '(b)', '(c)', '(d)', '(e)', '(g)', '(k)'].map((paragraph) => `11.10${paragraph}`);
    for (const clause of ['8.5.2', '8.7.1', '8.7.2', '7.2', ...part11, '11.50(a)', '11.50(b)', '11.70']) {
      expect(clauses).toContain(clause);
    }
  });

  it('asks in one line each, says where to look, how, and what the house must do', () => {
    for (const { asks, shownIn, howToCheck, besides } of AUDITOR_CHECKLIST) {
      for (const text of [asks, howToCheck, besides]) expect(text).toMatch(/^[^\n|]{10,200}\.$/);
      expect(shownIn.json.length).toBeGreaterThan(0);
      for (const pointer of shownIn.json) expect(pointer).toMatch(/^(\/[A-Za-z0-9*]+)+$/);
    }
  });
});
