import type { TallyFigures } from '../kit/tally-cells.js';
import type { SubjectLike } from '../kit/subject-link.js';

/** One reason of a refused clearance, as it is shown. */
export interface RefusalReason {
  readonly code: string;
  readonly subject: SubjectLike;
  readonly detail: string;
  readonly remedy: string;
  /** Id of the hold that stands against it. */
  readonly hold?: string;
  /** Where it is about a count: how that would have stood. */
  readonly figures?: TallyFigures;
}

/** Reads the reasons of a problem; members that are not as they should be are left out. */
export function refusalReasons(members: Readonly<Record<string, unknown>>): readonly RefusalReason[] {
  const { reasons } = members;
  return Array.isArray(reasons) ? reasons.filter(isMembers).map(readReason) : [];
}

function readReason(reason: Readonly<Record<string, unknown>>): RefusalReason {
  const text = (key: string): string => (typeof reason[key] === 'string' ? reason[key] : '');
  const { subject, used, reserved, asked, allowed } = reason;
  const isCount = [used, reserved, asked, allowed].every((figure) => typeof figure === 'number');
  return {
    code: text('code'),
    subject: isMembers(subject) ? { ...subject, kind: String(subject['kind']) } : { kind: '' },
    detail: text('detail'),
    remedy: text('remedy'),
    ...(text('hold') !== '' && { hold: text('hold') }),
    ...(isCount && {
      figures: { used: Number(used), reserved: Number(reserved) + Number(asked), allowed: Number(allowed) },
    }),
  };
}

function isMembers(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null;
}
