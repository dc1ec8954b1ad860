import { PlannedStep } from '../../domain/clearance/clearance.js';
import { PlanReason, PlanWarning } from '../../domain/clearance/plan-verdict.js';
import { simulatePlan } from '../../domain/clearance/simulate-plan.js';
import { Rules } from '../../domain/setup/setup-data.js';
import { deviceKey, parseStream, StreamKey, Subject } from '../../domain/subject/subject.js';
import { BookDeps } from '../fold/book-deps.js';
import { BOOK_ENTRY_TYPES } from '../fold/book-effect.js';
import { worldFromRecords } from '../fold/make-world.js';
import { tryAgain } from '../fold/try-again.js';
import { KeyedRequest } from '../ports/clearance-store.js';
import { BookTransaction } from '../ports/book-store.js';
import { returnsOf } from './came-back.js';
import { ClearanceRecord, clearanceState } from './clearance-record.js';
import { holdRefusals, streamsAsked } from './hold-refusals.js';
import { BookWork, foldAndStand, FoldedSubject, settled, sightSubject } from './settle-subject.js';
import { ClearanceActor, writeClearanceEntry } from './write-clearance-entry.js';

export interface ClearanceWish {
  /** Stream key of a unit, or of a loose device. */
  readonly subject: StreamKey;
  readonly station: string;
  readonly operator: string;
  /** 1 to 20. */
  readonly steps: readonly PlannedStep[];
  readonly ttlSeconds: number;
  readonly actor: ClearanceActor;
  /** Given where the request may come again. */
  readonly request?: KeyedRequest;
}

export type ClearanceAnswer =
  | { readonly granted: ClearanceRecord }
  | { readonly refused: { readonly reasons: readonly PlanReason[]; readonly warnings: readonly PlanWarning[] } };

/**
 * Answers a request for clearance, in one commit with whatever was posted of its subjects before: whoever asks reads
 * their own writes. The same request under the same key is answered as it was the first time.
 * @returns `other-body` where the key came with another request before.
 */
export async function grantClearance(deps: BookDeps, wish: ClearanceWish): Promise<ClearanceAnswer | 'other-body'> {
  return tryAgain((whole) => {
    const work = (tx: BookTransaction): Promise<ClearanceAnswer | 'other-body'> => answer({ deps, tx, whole }, wish);
    return whole ? deps.store.exclusively(work) : deps.store.besideFolds(work);
  });
}

async function answer(work: BookWork, wish: ClearanceWish): Promise<ClearanceAnswer | 'other-body'> {
  const { request } = wish;
  const before = request && (await work.tx.answerBefore(request));
  if (before === 'other-body') return before;
  // It was kept by this very function.
  if (before !== undefined) return before.answer as ClearanceAnswer;
  const answered = await judge(work, wish);
  if (request !== undefined) work.tx.leave(work.tx.keepAnswer(request, answered));
  return answered;
}

async function judge(work: BookWork, wish: ClearanceWish): Promise<ClearanceAnswer> {
  const { deps, tx } = work;
  const named = wish.steps.flatMap(({ device }) => (device === undefined ? [] : [device]));
  const sighted = await sightSubject(work, wish.subject, named);
  const { rules } = sighted;
  const unknown = unknownAssembly(rules, wish);
  if (unknown !== undefined) return refused([unknown]);
  const { folded, standing } = await foldAndStand(work, sighted, (devices) => ({
    keys: [wish.subject, ...sighted.named],
    ifKnown: devices,
    alsoHeld: streamsAsked({ ...wish, plans: wish.steps }),
    openAt: deps.clock.now(),
  }));
  const { records, holds, clearances } = standing;
  const record = settled(
    folded,
    records.find(({ key }) => key === wish.subject),
  );
  // It may have had to wait for its turn.
  const now = deps.clock.now();
  const others = clearances.filter((one) => clearanceState(one, now) === 'granted');
  const id = deps.newId();
  const frame = { ...wish, clearance: id, at: now };
  // The states are spoilt by playing the plan through; none of them is written.
  const world = worldFromRecords(records, holds, new Map(), new Map());
  const plan = simulatePlan(world, rules, frame, wish.steps, others);
  const { reaches, spends, warnings } = plan;
  const cameBack = await returnsOf(tx, holds);
  const held = holdRefusals(holds, { ...wish, plans: wish.steps, reaches, world }, cameBack);
  const reasons = [...unjudged(folded, wish), ...held, ...plan.reasons];
  if (reasons.length > 0) return refused(reasons, warnings);
  const expiresAt = new Date(Date.parse(now) + wish.ttlSeconds * 1000).toISOString();
  const { subject, station, operator } = wish;
  const granted: ClearanceRecord = {
    ...{ id, subject, grantedAt: now, expiresAt, returnedAt: null, steps: [...plan.steps] },
    ...{ station, operator, grantedTo: wish.actor.name, returnedBy: null, lapsedAt: null },
    ...{ spends, warnings, rules: rules.version },
  };
  const data = { clearance: id, station, operator, expiresAt, steps: wish.steps, spends };
  const reserves = plan.steps.flatMap((step) => step.reserves);
  const entry = {
    ...{ type: BOOK_ENTRY_TYPES.clearanceGranted, time: now, recordedAt: now, actor: wish.actor, data },
    effect: { kind: 'clearance-granted' as const, clearance: id, reserves },
  };
  tx.leave(writeClearanceEntry(work, record, granted, entry));
  return { granted };
}

function refused(reasons: readonly PlanReason[], warnings: readonly PlanWarning[] = []): ClearanceAnswer {
  return { refused: { reasons, warnings } };
}

/** Nothing is opened in the book for a board of an assembly that it does not know. */
function unknownAssembly(rules: Rules, { subject }: ClearanceWish): PlanReason | undefined {
  const stream = parseStream(subject);
  if (stream?.kind !== 'unit') return undefined;
  const { assembly, serial } = stream;
  if (rules.find('assembly', assembly) !== undefined) return undefined;
  return {
    code: 'unknown-assembly',
    subject: { kind: 'unit', assembly, serial },
    detail: `Assembly ${assembly} is not in the setup.`,
    remedy: `Correct its name, or enter it with PUT /v1/assemblies/${assembly}, then ask again.`,
  };
}

/** A plan is not judged past facts that are known to be there and could not be read. */
function unjudged(folded: FoldedSubject, { subject }: ClearanceWish): readonly PlanReason[] {
  if (folded.unjudged === 0) return [];
  return [
    {
      code: 'event-unjudged',
      subject: subjectOf(subject),
      detail: `Events of it that could not be judged so far: ${String(folded.unjudged)}.`,
      remedy: 'Ask again in a minute; if it stays so, tell whoever runs Heatbook.',
    },
  ];
}

function subjectOf(key: StreamKey): Subject {
  const stream = parseStream(key);
  if (stream?.kind === 'unit') return { kind: 'unit', assembly: stream.assembly, serial: stream.serial };
  return { kind: 'device', device: key.slice(deviceKey('').length) };
}
