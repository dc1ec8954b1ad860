import { LimitScope } from '../../domain/limits/limit-rule.js';
import { Rules } from '../../domain/setup/setup-data.js';
import { SubjectState } from '../ports/book-store.js';

/** What scopes can match at all, told by what is known without looking at sites and devices. */
export interface ScopeReach {
  /** Loose devices are on no assembly, so a scope that names one, its customer or a site matches none of them. */
  readonly loose: boolean;
  unit(rules: Rules, state: SubjectState | null): boolean;
}

export function reachOf(scopes: readonly LimitScope[]): ScopeReach {
  const named = (scope: LimitScope): boolean =>
    scope.assembly !== undefined || scope.customer !== undefined || scope.refdes !== undefined;
  return {
    loose: scopes.some((scope) => !named(scope)),
    unit: (rules, state) => {
      if (state?.kind !== 'unit') return false;
      const { assembly } = state.state;
      const customer = rules.find('assembly', assembly)?.body.customer;
      return scopes.some(
        (scope) =>
          (scope.assembly === undefined || scope.assembly === assembly) &&
          (scope.customer === undefined || scope.customer === customer),
      );
    },
  };
}
