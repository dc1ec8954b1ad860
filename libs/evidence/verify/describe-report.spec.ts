import { describeReport, verifyExitCode } from './describe-report.js';
import { exampleAudit } from '../spec-support/example-audit.js';
import { nodeDigests } from '../node-digests.js';
import { sampleAudit } from '../spec-support/sample-audit.js';
import { verifyAudit } from './verify-audit.js';

async function described(text: string): Promise<{ code: number; lines: string[]; text: string }> {
  const report = await verifyAudit(text, nodeDigests);
  const lines = describeReport(report);
  return { code: verifyExitCode(report), lines, text: lines.join('\n') };
}

describe('describeReport', () => {
  it('says that a sound file holds, what was checked and what that cannot show', async () => {
    const { code, text } = await described(JSON.stringify(sampleAudit(3)));
    expect(code).toBe(0);
    expect(text).toContain('It holds: the audit of DEMO-100/SN-1 (5 entries) is as it was sealed.');
    expect(text).toContain('  ok      DEMO-100/SN-1: every entry gives its hash');
    expect(text).toContain('What this cannot show:');
    expect(text).not.toContain('NOT OK');
  });

  it('tells when the file was made, so that an old one is not taken for the newest', async () => {
    const { text } = await described(JSON.stringify({ ...sampleAudit(3), exportedAt: '2030-01-08T10:00:00Z' }));
    expect(text).toContain('Made at 2030-01-08T10:00:00Z');
  });

  it('tells heads and root, to compare with a PDF of the same export', async () => {
    const { lines } = await described(JSON.stringify(await exampleAudit()));
    const text = lines.map((line) => line.trim()).join(' ');
    const head = 'e5a75852d3cf7c91e3a2c3077557a5ceaf46745f8eb4af1f11228d57f769ba6b';
    expect(text).toContain(`DEMO-100/SN-1: 2 entries, head hash ${head}`);
    const root = '848b6af623444bcdb24c36fbad7768ab8b12f279c80deea22fa3081f69ef0915';
    expect(text).toContain(`Checkpoint of the log: 4 entries, root ${root}`);
  });

  it('names the ledger and the entry of a fault, and what a broken seal no longer tells', async () => {
    const document = sampleAudit(3);
    document.entries.splice(1, 1);
    const { code, lines, text } = await described(JSON.stringify(document));
    expect(code).toBe(1);
    expect(lines[0]).toBe('It does not hold: the audit of DEMO-100/SN-1 (4 entries) has 1 fault.');
    expect(lines).toContain('  DEMO-100/SN-1: Entry 2 is missing: entry 1 is followed by entry 3.');
    expect(text).toContain('does not tell whether the');
  });

  it('says nothing more of the seal where it alone is broken', async () => {
    const { code, text } = await described(JSON.stringify({ ...sampleAudit(3), unit: {} }));
    expect(code).toBe(1);
    expect(text).toContain('The file was changed outside its ledgers');
    expect(text).not.toContain('does not tell whether');
  });

  it('says why a file could not be checked', async () => {
    const { code, text } = await described('{"format":"heatbook-audit"');
    expect(code).toBe(2);
    expect(text).toContain('This file could not be checked.');
    expect(text).toContain('The file ends early, after 26 characters');
  });

  it('lists a limited number of faults and counts the rest', async () => {
    const document = sampleAudit(100);
    for (const entry of document.entries) entry.rules += 1;
    const { lines } = await described(JSON.stringify(document));
    expect(lines.filter((line) => line.includes(' was changed: '))).toHaveLength(40);
    expect(lines).toContain('  and 60 more faults.');
  });

  it('keeps to its width and lets no control character of the file through to the terminal', async () => {
    const document = sampleAudit(1);
    const { lines } = await described(JSON.stringify({ ...document, subject: '\u001b[2Jgone' }));
    expect(lines.join('')).not.toContain('\u001b');
    expect(lines.join('')).toContain('<U+001b>[2Jgone');
    expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(100);
  });
});
