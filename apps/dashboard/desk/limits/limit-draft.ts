import { isBudget, judgesEachStep, type LimitBody, type LimitKind } from './limit-words.js';

/** A limit as it is being written: texts as typed. */
export interface LimitDraft {
  readonly kind: LimitKind;
  /** What is allowed, where it is one figure. */
  readonly figure: string;
  /** Of `method-allowed`. */
  readonly methods: readonly string[];
  /** Of `flatness-max`, where it is by pitch; empty where it is one figure. */
  readonly rows: readonly PitchRow[];
  readonly unit: string;
  readonly scope: Readonly<Record<ScopeField, string>>;
  readonly action: LimitBody['action'];
  readonly source: string;
  /** Local date and time, as an input has it; empty: at once. */
  readonly effectiveFrom: string;
  readonly countPossible: boolean;
}

export interface PitchRow {
  readonly pitchMm: string;
  readonly max: string;
}

export const SCOPE_FIELDS = ['customer', 'assembly', 'part', 'refdes'] as const;
export type ScopeField = (typeof SCOPE_FIELDS)[number];

type Method = 'braid' | 'vacuum' | 'fountain' | 'coupon';
type Allowed = LimitBody['allowed'];
export const METHODS: readonly Method[] = ['braid', 'vacuum', 'fountain', 'coupon'];

/** A new draft, with what the limit is now; it takes effect at once unless somebody says when. */
export function draftOf(limit: LimitBody): LimitDraft {
  const { kind, allowed, unit, scope = {}, action, source, countPossible = false } = limit;
  const { customer = '', assembly = '', part = '', refdes = '' } = scope;
  return {
    ...{ kind, unit, action, source, countPossible, effectiveFrom: '' },
    scope: { customer, assembly, part, refdes },
    figure: typeof allowed === 'number' ? String(allowed) : '',
    methods: typeof allowed === 'number' ? [] : allowed.filter((one) => typeof one === 'string'),
    rows: rowsOf(allowed),
  };
}

function rowsOf(allowed: Allowed): readonly PitchRow[] {
  if (typeof allowed === 'number') return [];
  return allowed.flatMap((row) =>
    typeof row === 'string' ? [] : [{ pitchMm: String(row.pitchMm), max: String(row.max) }],
  );
}

/** The limit as the API takes it; the API says what of it is wrong. */
export function bodyOf(draft: LimitDraft): LimitBody {
  const { kind, unit, action, source, effectiveFrom, countPossible } = draft;
  const scope = SCOPE_FIELDS.flatMap((field) => {
    const text = draft.scope[field].trim();
    return text === '' ? [] : [[field, text] as const];
  });
  return {
    ...{ kind, unit, action, source: source.trim() },
    allowed: allowedIn(draft),
    scope: Object.fromEntries(scope),
    ...(effectiveFrom !== '' && { effectiveFrom: new Date(effectiveFrom).toISOString() }),
    ...(isBudget(kind) && countPossible && { countPossible }),
  };
}

function allowedIn({ kind, figure, methods, rows }: LimitDraft): Allowed {
  if (judgesEachStep(kind)) return 0;
  if (kind === 'method-allowed') return METHODS.filter((method) => methods.includes(method));
  if (kind === 'flatness-max' && rows.length > 0) {
    return rows.map(({ pitchMm, max }) => ({ pitchMm: Number(pitchMm), max: Number(max) }));
  }
  return Number(figure);
}

/** Whether a draft says nothing but what the limit says already. */
export function saysNothingNew(draft: LimitDraft, limit: LimitBody): boolean {
  return draft.effectiveFrom === '' && JSON.stringify(bodyOf(draft)) === JSON.stringify(bodyOf(draftOf(limit)));
}
