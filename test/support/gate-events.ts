import { PlannedStep } from '../../libs/domain/clearance/clearance.js';
import { Measured, Move, Refdes, Step } from '../reference/gate-words.js';

/** The station that says everything in the shop of the naive gate. */
export const GATE_BENCH = 'BENCH';
export const MELTS_C = 236;
export const COOL_C = 150;

/** In the order of its number, since what happened at one moment is told in the order of ids. */
export function eventId(number: number): string {
  return `e${String(number).padStart(5, '0')}`;
}

export interface SaidStep {
  readonly number: number;
  readonly subject: string;
  readonly doing: Step | Move;
  readonly measured: Measured;
  /** RFC 3339. */
  readonly time: string;
  readonly startedAt: string;
  /** Id of the clearance that it names. */
  readonly clearance: string | null;
}

export function eventOf({ number, subject, doing, measured, time, startedAt, clearance }: SaidStep): object {
  const { type, data, heats } = said(doing, measured);
  const site = 'site' in doing ? doing.site : null;
  const thermocouples = doing.kind === 'pass' ? [] : readings(site, measured);
  const heat = heats ? { heat: { startedAt, endedAt: time, thermocouples } } : {};
  const named = clearance === null ? {} : { clearance };
  return envelope({ type, subject, id: eventId(number), time, data: { ...data, ...heat, ...named } });
}

function readings(site: Refdes | null, { own, beside: other }: Measured): object[] {
  const at = (id: string, seen: 'melts' | 'cool' | null, refdes: object): object[] =>
    seen === null ? [] : [{ id, position: 'joint', peakC: seen === 'melts' ? MELTS_C : COOL_C, ...refdes }];
  const neighbour = site === null ? [] : at('T2', other, { refdes: beside(site) });
  return [...at('T1', own, {}), ...neighbour];
}

function said(doing: Step | Move, { own, beside: other }: Measured): { type: string; data: object; heats: boolean } {
  switch (doing.kind) {
    case 'shipped':
    case 'received':
      return { type: `heatbook.unit.${doing.kind}.v1`, data: {}, heats: false };
    case 'device-in':
      return { type: 'heatbook.device.received.v1', data: { part: 'CHIP' }, heats: false };
    case 'reballing':
      return { type: TYPES.reballing, data: { ballAlloy: 'SAC305', ballDiameterMm: 0.6 }, heats: true };
    case 'pass':
      return { type: TYPES.pass, data: { profile: profileRef('HOT') }, heats: true };
    case 'touch-up':
      return { type: TYPES['touch-up'], data: { ...where(doing), purpose: 'touch-up' }, heats: true };
    case 'removal':
      return { type: TYPES.removal, data: { ...where(doing), fate: doing.fate }, heats: true };
    case 'placement':
      return { type: TYPES.placement, data: { ...where(doing), device: doing.device, attach: 'flux' }, heats: true };
    case 'dressing': {
      const solder = { solderAlloy: 'SAC305', passes: 1, contactSeconds: 3 };
      const data = { ...where(doing), method: doing.method, ...solder };
      return { type: TYPES.dressing, data, heats: doing.method === 'coupon' || own !== null || other !== null };
    }
  }
}

const TYPES = {
  'touch-up': 'heatbook.site.heated.v1',
  removal: 'heatbook.device.removed.v1',
  dressing: 'heatbook.site.dressed.v1',
  placement: 'heatbook.device.placed.v1',
  pass: 'heatbook.unit.reflowed.v1',
  reballing: 'heatbook.device.reballed.v1',
} as const satisfies Record<Step['kind'], PlannedStep['type']>;

function where({ site, profile }: { site: Refdes; profile: string }): { refdes: Refdes; profile: ProfileName } {
  return { refdes: site, profile: profileRef(profile) };
}

interface ProfileName {
  readonly name: string;
  readonly revision: string;
}

export function profileRef(name: string): ProfileName {
  return { name, revision: 'A' };
}

export function planOf(step: Step): PlannedStep {
  const type = TYPES[step.kind];
  switch (step.kind) {
    case 'pass':
      return { type, profile: profileRef('HOT') };
    case 'reballing':
      return step.device === null ? { type } : { type, device: step.device };
    case 'touch-up':
      return { type, ...where(step), purpose: 'touch-up' };
    case 'removal':
      return { type, ...where(step), fate: step.fate };
    case 'dressing':
      return { type, ...where(step), method: step.method };
    case 'placement':
      return { type, ...where(step), device: step.device };
  }
}

export function beside(refdes: Refdes): Refdes {
  return refdes === 'U1' ? 'U2' : 'U1';
}

export function envelope(event: { type: string; subject: string; id: string; time: string; data: object }): object {
  return { specversion: '1.0', source: `/stations/${GATE_BENCH}`, ...event };
}
