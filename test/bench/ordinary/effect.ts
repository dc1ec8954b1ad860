import { LimitKind } from './limits.js';

/** What an event changed, as its ledger entry tells it. Counts are those after it. */
export type Effect =
  | { readonly kind: 'status-changed'; readonly subject: string; readonly status: string }
  | { readonly kind: 'history-declared'; readonly subject: string; readonly count: number }
  | { readonly kind: 'excursion-counted'; readonly subject: string; readonly count: number }
  | { readonly kind: 'heat-counted'; readonly subject: string; readonly count: number }
  | { readonly kind: 'rework-counted'; readonly subject: string; readonly count: number }
  | { readonly kind: 'dressed'; readonly subject: string; readonly passes: number; readonly contactSeconds: number }
  | { readonly kind: 'device-changed'; readonly subject: string; readonly device: string | null }
  | { readonly kind: 'inspected'; readonly subject: string; readonly result: 'pass' | 'fail' }
  | {
      readonly kind: 'hold-raised';
      readonly subject: string;
      readonly limit: LimitKind;
      readonly used: number;
      readonly allowed: number;
    };
