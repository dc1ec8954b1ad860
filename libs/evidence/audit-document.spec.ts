import { GENESIS_HASH } from '../ledger/ports/seal.js';
import { buildAuditDocument, sealOfDocument } from './audit-document.js';
import { sampleAudit, sampleBody, sealAll } from './spec-support/sample-audit.js';

const parts = {
  assembly: 'DEMO-100',
  serial: 'SN-1',
  exportedAt: '2026-03-03T10:00:00Z',
  unit: {},
  configuration: {},
  devices: [],
};

describe('buildAuditDocument', () => {
  it('names format, version and subject, and seals the rest', () => {
    const document = sampleAudit(3);
    expect(document).toMatchObject({ format: 'heatbook-audit', version: 1, subject: 'DEMO-100/SN-1', count: 3 });
    expect(document.seal).toBe(sealOfDocument(document));
    expect(document.seal).not.toBe(sealOfDocument({ ...document, exportedAt: '2026-03-04T10:00:00Z' }));
  });

  it('takes a unit without entries', () => {
    expect(buildAuditDocument({ ...parts, entries: [], count: 0, headHash: GENESIS_HASH }).count).toBe(0);
  });

  it('refuses to export a ledger that was read only in part', () => {
    const whole = sealAll([1, 2, 3].map((seq) => sampleBody('DEMO-100/SN-1', seq)));
    const cut = { ...whole, entries: whole.entries.slice(0, 2) };
    expect(() => buildAuditDocument({ ...parts, ...cut })).toThrow('has 3 entries, not 2');
    expect(() => buildAuditDocument({ ...parts, ...cut, count: 2 })).toThrow('does not end at its head');
    expect(() => buildAuditDocument({ ...parts, ...whole, entries: whole.entries.slice(1), count: 2 })).toThrow(
      'not in order',
    );
  });

  it('refuses entries of another subject, in a device as in the unit', () => {
    const other = sealAll([sampleBody('DEMO-100/SN-2', 1)]);
    const own = sealAll([sampleBody('DEMO-100/SN-1', 1)]);
    expect(() => buildAuditDocument({ ...parts, ...other })).toThrow('not in order');
    expect(() => buildAuditDocument({ ...parts, ...own, devices: [{ device: 'D-1', ...own }] })).toThrow('devices/D-1');
  });
});
