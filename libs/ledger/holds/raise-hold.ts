import { deviceKey, Subject, unitKey } from '../../domain/subject/subject.js';
import { siteIn } from '../../domain/book/evolve.js';
import { DeviceState, UnitState } from '../../domain/book/state.js';
import { BookDeps } from '../fold/book-deps.js';
import { BOOK_ENTRY_TYPES, holdEffect } from '../fold/book-effect.js';
import { SubjectState } from '../ports/book-store.js';
import { HoldRecord, UNWORKED } from './hold-record.js';
import { writeHoldEntry } from './write-hold-entry.js';

export interface RaiseHold {
  readonly subject: Subject;
  /** Why: what the next person needs to know. */
  readonly note: string;
  readonly by: string;
}

/**
 * Raises a hold by hand, with its entry in the ledger, in one commit.
 * @returns `unknown-subject` where the book knows no such unit, site or device.
 */
export async function raiseHold(deps: BookDeps, wish: RaiseHold): Promise<HoldRecord | 'unknown-subject'> {
  await deps.setup.catchUp();
  return deps.store.exclusively(async (tx) => {
    const { subject } = wish;
    const key = subject.kind === 'device' ? deviceKey(subject.device) : unitKey(subject.assembly, subject.serial);
    const [record] = await tx.load([], [key]);
    const state = record?.state ?? null;
    if (state === null || !knows(state, subject)) return 'unknown-subject';
    const at = deps.clock.now();
    const unit = unitOf(state);
    const hold: HoldRecord = {
      id: deps.newId(),
      state: 'open',
      reason: 'by-hand',
      subject,
      unit,
      customer: unit === null ? null : (deps.setup.latest().find('assembly', unit.assembly)?.body.customer ?? null),
      station: null,
      operator: null,
      raisedAt: at,
      raisedBy: wish.by,
      causes: [],
      evidence: { summary: wish.note },
      remedy: 'Have quality look into it and release it.',
      touched: true,
      causeGone: false,
      ...UNWORKED,
    };
    const effect = holdEffect('hold-raised', hold);
    await writeHoldEntry(deps, tx, hold, {
      type: BOOK_ENTRY_TYPES.holdRaised,
      by: wish.by,
      at,
      note: wish.note,
      effect,
    });
    return hold;
  });
}

function knows(state: SubjectState, subject: Subject): boolean {
  if (state.kind === 'unit' && subject.kind === 'site') return siteIn(state.state, subject.refdes) !== undefined;
  return state.kind === subject.kind;
}

/** The unit itself, or the one that a device is on. */
function unitOf(subject: SubjectState): HoldRecord['unit'] {
  if (subject.kind === 'station') return null;
  const place: UnitState | DeviceState['place'] = subject.kind === 'unit' ? subject.state : subject.state.place;
  return place === null ? null : { assembly: place.assembly, serial: place.serial };
}
