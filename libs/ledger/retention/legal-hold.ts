import { SignedAct } from '../signing/sign-act.js';

/** What a legal hold is over: everything of a customer, every unit of an assembly, or one unit. */
export type LegalScope =
  | { readonly customer: string }
  | { readonly assembly: string }
  | { readonly unit: { readonly assembly: string; readonly serial: string } };

/** A signed decision; its signature says by whom and when. */
export interface LegalAct extends SignedAct {
  readonly note: string;
}

/** That nothing of what it is over may be removed, however long it has been kept, until it is lifted. */
export interface LegalHold extends LegalAct {
  readonly id: string;
  readonly scope: LegalScope;
  /** How those who asked for it name the matter. */
  readonly reference: string;
  /** Signed by somebody else than whoever set it; null while it is in force. */
  readonly lift: LegalAct | null;
}

/** A unit as legal holds are over it. */
interface HeldUnit {
  readonly customer: string | null;
  readonly assembly: string;
  readonly serial: string;
}

/** Whether a unit is within a scope. */
export function covers(scope: LegalScope, unit: HeldUnit): boolean {
  if ('customer' in scope) return scope.customer === unit.customer;
  if ('assembly' in scope) return scope.assembly === unit.assembly;
  return scope.unit.assembly === unit.assembly && scope.unit.serial === unit.serial;
}
