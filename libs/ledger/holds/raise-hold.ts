import { siteIn } from '../../domain/book/evolve.js';
import { DeviceState, UnitState } from '../../domain/book/state.js';
import { HoldSubject, streamOfHold } from '../../domain/holds/hold-subject.js';
import { profileName, Rules } from '../../domain/setup/setup-data.js';
import { Subject } from '../../domain/subject/subject.js';
import { BookDeps } from '../fold/book-deps.js';
import { BOOK_ENTRY_TYPES, holdEffect } from '../fold/book-effect.js';
import { SubjectState } from '../ports/book-store.js';
import { Assignment } from './assign-holds.js';
import { DeskRefusal } from './desk-refusal.js';
import { HoldRecord, UNWORKED } from './hold-record.js';
import { writeHoldEntry } from './write-hold-entry.js';

export interface RaiseHold extends Partial<Assignment> {
  readonly subject: HoldSubject;
  /** Why: what the next person needs to know. */
  readonly note: string;
  readonly by: string;
}

/** What a hold has from its subject. */
type Setting = Pick<HoldRecord, 'unit' | 'customer' | 'station' | 'operator'>;

/**
 * Raises a hold by hand, with its entry in the ledger, in one commit: on what the book knows (a unit, a site, a device) or
 * what the setup has (a station, an operator, a profile revision).
 */
export async function raiseHold(deps: BookDeps, wish: RaiseHold): Promise<HoldRecord | DeskRefusal> {
  await deps.setup.catchUp();
  const rules = deps.setup.latest();
  return deps.store.exclusively(async (tx) => {
    const { subject, note, by, assignee = null, dueAt = null } = wish;
    const setting = await settingOf(subject, rules, async (known) => {
      const [record] = await tx.load([], [streamOfHold(known)]);
      return record?.state ?? null;
    });
    if (setting === undefined) return unknown(subject);
    const at = deps.clock.now();
    const hold: HoldRecord = {
      id: deps.newId(),
      state: 'open',
      reason: 'by-hand',
      subject,
      ...setting,
      raisedAt: at,
      raisedBy: by,
      causes: [],
      evidence: { summary: note },
      remedy:
        'Have quality look into it and decide; then somebody else than who raised it and who decided releases it.',
      touched: true,
      causeGone: false,
      ...UNWORKED,
      assignee,
      dueAt: dueAt === null ? null : new Date(dueAt).toISOString(),
    };
    const effect = holdEffect('hold-raised', hold);
    await writeHoldEntry(deps, tx, hold, { type: BOOK_ENTRY_TYPES.holdRaised, by, at, data: { note }, effect });
    return hold;
  });
}

/** Undefined where neither book nor setup knows the subject. */
async function settingOf(
  subject: HoldSubject,
  rules: Rules,
  stateOf: (subject: Subject) => Promise<SubjectState | null>,
): Promise<Setting | undefined> {
  const nowhere: Setting = { unit: null, customer: null, station: null, operator: null };
  switch (subject.kind) {
    case 'station':
      return rules.find('station', subject.station) && { ...nowhere, station: subject.station };
    case 'operator':
      return rules.find('operator', subject.operator) && { ...nowhere, operator: subject.operator };
    case 'profile':
      return rules.find('profile', profileName(subject)) && nowhere;
    case 'unit':
    case 'site':
    case 'device': {
      const state = await stateOf(subject);
      if (state === null || !knows(state, subject)) return undefined;
      const unit = unitOf(state);
      const customer = unit === null ? null : (rules.find('assembly', unit.assembly)?.body.customer ?? null);
      return { ...nowhere, unit, customer };
    }
  }
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

function unknown(subject: HoldSubject): DeskRefusal {
  const { kind, ...name } = subject;
  const named = Object.values(name).join(' ');
  const detail =
    kind === 'station' || kind === 'operator' || kind === 'profile'
      ? `The setup has no ${kind} ${named}; a hold can be put on what it has. PUT it there first, or mend the name.`
      : `The book knows no ${kind} ${named}; a hold can be put on what it has events of.`;
  return { refused: 'unknown-subject', detail };
}
