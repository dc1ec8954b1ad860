import { ParkingReason } from '../../domain/book/apply-event.js';
import { EMPTY_MOISTURE } from '../../domain/moisture/moisture-ledger.js';
import { DeviceState, UnitState } from '../../domain/book/state.js';
import { emptyTally, UNKNOWN_PRIOR } from '../../domain/book/tally.js';
import { AssemblyDesign, PartData } from '../../domain/setup/setup-data.js';
import { HoldRecord, HoldRelease, UNWORKED } from '../holds/hold-record.js';

/** Values with something in every corner, for stores that must give back what they were given. */

export function unitState(assembly: string, serial: string, status: UnitState['status'] = 'in-house'): UnitState {
  const excursions = {
    prior: { count: 2, basis: 'assumed' as const },
    counted: [
      {
        event: { source: '/stations/bench-1', id: 'e1' },
        at: '2026-03-02T08:30:00.000000000Z',
        basis: 'inferred' as const,
        why: 'Removal melts the joint – assumed at 217 °C.',
      },
    ],
    possible: [],
  };
  return {
    assembly,
    serial,
    status,
    workOrder: null,
    complaint: 'no boot, "sometimes"',
    received: true,
    reflows: emptyTally(UNKNOWN_PRIOR),
    sites: {
      U7: {
        device: `${assembly}:${serial}:U7`,
        condition: 'fitted',
        alloys: ['SAC305'],
        reworks: emptyTally({ count: 1, basis: 'declared' }),
        dressings: emptyTally(UNKNOWN_PRIOR),
        contacts: [],
        remnant: { alloy: 'SAC305', filmUm: null },
        lead: { estimate: null, measuredPct: null },
        passes: 0,
        excursions,
        placed: false,
        inspected: { xray: 'pass' },
      },
    },
    moisture: EMPTY_MOISTURE,
    warnings: [],
    devicesSeen: [],
    last: { at: '2026-03-02T08:30:00.000000000Z', source: '/stations/bench-1', id: 'e1' },
  };
}

export function deviceState(device: string): DeviceState {
  return {
    device,
    part: null,
    status: 'loose',
    knownAs: null,
    place: null,
    mountedAt: null,
    excursions: emptyTally(UNKNOWN_PRIOR),
    balls: { state: 'reballed', alloy: 'SAC305' },
    lot: null,
    dateCode: null,
    owner: null,
    moisture: EMPTY_MOISTURE,
    warnings: [],
    unitsSeen: [],
    last: null,
  };
}

/** A UUID that is the hexadecimal of a label of 16 letters at most, so that ids are told apart and sort as labels do. */
export function holdId(label: string): string {
  const hex = Array.from(label, (letter) => letter.charCodeAt(0).toString(16))
    .join('')
    .padEnd(32, '0');
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20, 32)].join('-');
}

/** The label that an id was made of. */
export function labelOf({ id }: { readonly id: string }): string {
  const codes = id.replaceAll('-', '').match(/../g) ?? [];
  return codes.map((code) => (code === '00' ? '' : String.fromCharCode(parseInt(code, 16)))).join('');
}

/** How a sample that is released came to be so. */
const SAMPLE_RELEASE: HoldRelease = {
  by: 'quality',
  at: '2026-03-03T10:00:00.000Z',
  note: 'Measured again.',
  signature: {
    by: 'quality',
    named: 'a1',
    at: '2026-03-03T10:00:00.000Z',
    meaning: 'as decided',
    contentHash: 'ab',
  },
  approved: false,
  withoutCause: true,
};

/** An open hold on site U7 of BRD-1/0001, or one that differs; what is released has a release. */
export function sampleHold(label: string, differs: Partial<HoldRecord> = {}): HoldRecord {
  return {
    id: holdId(label),
    state: 'open',
    reason: 'site-reworks',
    subject: { kind: 'site', assembly: 'BRD-1', serial: '0001', refdes: 'U7' },
    unit: { assembly: 'BRD-1', serial: '0001' },
    customer: 'Northlight',
    station: 'bench-1',
    operator: 'op-3',
    raisedAt: '2026-03-02T08:30:01.000Z',
    raisedBy: null,
    causes: [{ at: '2026-03-02T08:30:00.000000000Z', source: '/stations/bench-1', id: 'e1' }],
    evidence: { summary: 'A fourth rework of U7.', used: 4, allowed: 3, unit: 'reworks', details: ['4 removals'] },
    remedy: 'Quality disposes.',
    touched: false,
    causeGone: differs.state === 'released',
    ...UNWORKED,
    release: differs.state === 'released' ? SAMPLE_RELEASE : null,
    ...differs,
  };
}

export const UNKNOWN_ASSEMBLY: ParkingReason = {
  code: 'unknown-assembly',
  detail: 'Assembly BRD-1 is not in the setup.',
  remedy: 'Enter it, then retry the event.',
};

export function assemblyDesign(customer: string): AssemblyDesign {
  return { customer, description: 'Carrier board', leadFree: true, assemblyReflows: { top: 1, bottom: 2 }, sites: [] };
}

export function partData(lengthMm: number): PartData {
  return { lengthMm, widthMm: 17, thicknessMm: 1.4, msl: '3', ballAlloy: 'SAC305' };
}
