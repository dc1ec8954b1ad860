import { limitPlace } from '../../domain/book/budgets.js';
import { siteIn } from '../../domain/book/evolve.js';
import { emptyWorld, World } from '../../domain/book/state.js';
import { orderTime } from '../../domain/events/event-order.js';
import { streamOfHold } from '../../domain/holds/hold-subject.js';
import { Allowed, BUDGET_KINDS, LimitKind } from '../../domain/limits/limit-rule.js';
import { loosened } from '../../domain/limits/loosened.js';
import { resolveLimit } from '../../domain/limits/resolve-limit.js';
import { Rules } from '../../domain/setup/setup-data.js';
import { Subject, subjectKey, unitKey } from '../../domain/subject/subject.js';
import { BookDeps } from '../fold/book-deps.js';
import { BOOK_ENTRY_TYPES } from '../fold/book-effect.js';
import { DeskRefusal } from '../holds/desk-refusal.js';
import { BookTransaction, SubjectRecord } from '../ports/book-store.js';
import { signAct } from '../signing/sign-act.js';
import { Signer } from '../signing/signature.js';
import { concededKinds } from './conceded-kinds.js';
import { ConcessionRecord } from './concession-record.js';
import { writeConcession } from './write-concession.js';

export interface SignConcession {
  readonly subject: Subject;
  readonly limit: LimitKind;
  /** In place of what the limit allows, in its unit. */
  readonly allowed: number;
  /** How the customer names their approval. */
  readonly customerReference: string;
  readonly note: string;
  readonly signer: Signer;
}

/**
 * Signs an exception that the customer has approved: from now on this one subject is judged by it. Setup revision and
 * ledger entry are one commit. What broke the limit before stays broken: its hold is disposed of and released by people.
 */
export async function signConcession(deps: BookDeps, wish: SignConcession): Promise<ConcessionRecord | DeskRefusal> {
  const refusal = notApprover(wish.signer) ?? misfit(wish);
  if (refusal !== undefined) return refusal;
  const signed = await deps.store.exclusively(async (tx) => {
    await deps.setup.reach(await tx.setupVersion());
    const records = await around(tx, wish.subject);
    const record = records.find(({ key }) => key === streamOfHold(wish.subject));
    if (record === undefined || !knows(record, wish.subject)) return unknown(wish.subject);
    const at = deps.clock.now();
    return tooStrict(worldOf(records), deps.setup.latest(), wish, at) ?? (await sign(deps, tx, record, wish, at));
  });
  await deps.setup.catchUp();
  return signed;
}

export function notApprover(signer: Signer): DeskRefusal | undefined {
  if (signer.roles.includes('approver')) return undefined;
  return { refused: 'not-allowed', detail: 'Concessions are signed by an approver; ask somebody with that role.' };
}

function misfit({ subject, limit, allowed }: SignConcession): DeskRefusal | undefined {
  const kinds = concededKinds(subject);
  if (!kinds.includes(limit)) {
    const detail = `${limit} is no limit that can be conceded for a ${subject.kind}; of a ${subject.kind} that is ${kinds.join(', ')}.`;
    return { refused: 'concession-unfit', detail };
  }
  if (!BUDGET_KINDS.some((kind) => kind === limit) || Number.isInteger(allowed)) return undefined;
  return { refused: 'concession-unfit', detail: `${limit} is spent by counting: send a whole number as allowed.` };
}

/** The subject, and the unit of a device that is on one, since what applies to it may depend on where it sits. */
async function around(tx: BookTransaction, subject: Subject): Promise<readonly SubjectRecord[]> {
  const own = await tx.load([], [streamOfHold(subject)]);
  const place = own[0]?.state?.kind === 'device' ? own[0].state.state.place : null;
  if (place === null) return own;
  return [...own, ...(await tx.load([], [unitKey(place.assembly, place.serial)]))];
}

function worldOf(records: readonly SubjectRecord[]): World {
  const world = emptyWorld();
  for (const { key, state } of records) {
    if (state?.kind === 'unit') world.units.set(key, state.state);
    else if (state?.kind === 'device') world.devices.set(state.state.device, state.state);
  }
  return world;
}

function knows({ state }: SubjectRecord, subject: Subject): boolean {
  if (state?.kind === 'unit' && subject.kind === 'site') return siteIn(state.state, subject.refdes) !== undefined;
  return state?.kind === subject.kind;
}

function unknown(subject: Subject): DeskRefusal {
  const detail = `The book knows no ${subject.kind} ${subjectKey(subject)}; a concession is for what it has events of.`;
  return { refused: 'unknown-subject', detail };
}

function tooStrict(world: World, rules: Rules, wish: SignConcession, at: string): DeskRefusal | undefined {
  const { subject, limit: kind, allowed } = wish;
  const limit = resolveLimit(rules, kind, limitPlace(world, rules, subject, orderTime(at)));
  if (limit === undefined) {
    const detail = `No limit ${kind} applies to this ${subject.kind}, so that there is nothing to concede.`;
    return { refused: 'concession-unfit', detail };
  }
  if (loosened(kind, limit.allowed, allowed) !== undefined) return undefined;
  const under = limit.concession === undefined ? `limit ${limit.name}` : `concession ${limit.concession}`;
  return {
    refused: 'concession-not-looser',
    detail: `${String(allowed)} ${limit.unit} is no looser than what applies now: ${inWords(limit.allowed)} ${limit.unit} (${under}, revision ${String(limit.revision)}). Send a looser figure, or work under the limit as it is.`,
  };
}

function inWords(allowed: Allowed): string {
  if (typeof allowed === 'number') return String(allowed);
  return allowed
    .map((row) => (typeof row === 'string' ? row : `${String(row.max)} at ${String(row.pitchMm)} mm`))
    .join(', ');
}

async function sign(
  deps: BookDeps,
  tx: BookTransaction,
  record: SubjectRecord,
  wish: SignConcession,
  at: string,
): Promise<ConcessionRecord> {
  const { subject, limit, allowed, customerReference, note, signer } = wish;
  const id = deps.newId();
  const terms = { subject, limit, allowed, from: at, customerReference };
  const { signed, signature } = signAct(deps.seal, signer, at, { act: 'concede', concession: id, ...terms, note });
  await writeConcession(deps, tx, record, {
    id,
    body: { ...terms, withdrawn: false },
    type: BOOK_ENTRY_TYPES.concessionSigned,
    by: signer.name,
    at,
    data: { note, signed, signature },
    effect: { kind: 'concession-signed', concession: id, subject, limit, allowed },
  });
  return { id, ...terms, withdrawn: false, signedBy: signer.name, withdrawal: null };
}
