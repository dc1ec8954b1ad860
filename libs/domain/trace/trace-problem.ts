/** Why a text is no trace. `line` counts from 1; `detail` says what is wrong, `remedy` what would mend it. */
export interface TraceProblem {
  readonly code:
    | 'empty'
    | 'no-readings'
    | 'too-many-rows'
    | 'too-many-channels'
    | 'open-quote'
    | 'row-too-long'
    | 'ambiguous-decimals'
    | 'bad-time'
    | 'bad-number';
  readonly line?: number;
  readonly detail: string;
  readonly remedy: string;
}

/** A file with one bad column would otherwise repeat itself for every row. */
export const MOST_PROBLEMS = 20;
