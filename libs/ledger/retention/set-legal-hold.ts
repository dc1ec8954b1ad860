import { unitKey } from '../../domain/subject/subject.js';
import { DeskRefusal } from '../holds/desk-refusal.js';
import { Clock } from '../ports/clock.js';
import { ReadStore } from '../ports/read-store.js';
import { RetentionStore } from '../ports/retention-store.js';
import { Seal } from '../ports/seal.js';
import { SetupBook } from '../setup/setup-book.js';
import { signAct } from '../signing/sign-act.js';
import { Signer } from '../signing/signature.js';
import { LegalHold, LegalScope } from './legal-hold.js';

export interface SetLegalHold {
  readonly scope: LegalScope;
  readonly reference: string;
  readonly note: string;
  readonly signer: Signer;
}

export interface LegalHoldDeps {
  readonly retention: Pick<RetentionStore, 'addLegalHold' | 'legalHold' | 'liftLegalHold'>;
  readonly setup: Pick<SetupBook, 'catchUp' | 'all' | 'newest'>;
  readonly reads: Pick<ReadStore, 'subject'>;
  readonly seal: Pick<Seal, 'canonical' | 'sha256Hex'>;
  readonly clock: Clock;
  readonly newId: () => string;
}

/** Keeps everything within a scope from being removed, from now on. A scope that the book knows nothing of is refused: a
 * slip in a name would protect nothing. */
export async function setLegalHold(
  deps: LegalHoldDeps,
  { scope, reference, note, signer }: SetLegalHold,
): Promise<LegalHold | DeskRefusal> {
  const unknown = await unknownScope(deps, scope);
  if (unknown !== undefined) return { refused: 'unknown-subject', detail: unknown };
  const id = deps.newId();
  const content = { act: 'set-legal-hold', legalHold: id, scope, reference, note };
  const act = signAct(deps.seal, signer, deps.clock.now(), content);
  const hold: LegalHold = { id, scope, reference, note, ...act, lift: null };
  await deps.retention.addLegalHold(hold);
  return hold;
}

async function unknownScope({ setup, reads }: LegalHoldDeps, scope: LegalScope): Promise<string | undefined> {
  if ('unit' in scope) {
    const { assembly, serial } = scope.unit;
    const record = await reads.subject(unitKey(assembly, serial));
    if (record?.state?.kind === 'unit') return undefined;
    return `The book knows no unit ${serial} of assembly ${assembly}; GET /v1/units lists them.`;
  }
  await setup.catchUp();
  if ('assembly' in scope) {
    if (setup.newest('assembly', scope.assembly) !== undefined) return undefined;
    return `The setup has no assembly ${scope.assembly}; GET /v1/assemblies lists them.`;
  }
  const isKnown = setup.all('assembly').some((one) => one.kind === 'assembly' && one.body.customer === scope.customer);
  return isKnown
    ? undefined
    : `No assembly of the setup is of customer ${scope.customer}; GET /v1/assemblies lists them.`;
}
