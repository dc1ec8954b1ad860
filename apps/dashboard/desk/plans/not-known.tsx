import type { ReactNode } from 'react';
import { asProblem } from '../api/api-problem.js';
import { Failure } from '../kit/states.js';
import { Mark } from '../kit/marks.js';

interface NotKnownProps {
  readonly error: unknown;
  readonly retry: () => void;
  /** What is not known, and what would mend that. */
  readonly children: ReactNode;
}

/** Says of what the book has not that it has not, in words for the bench; another failure is shown as it is. */
export function NotKnown({ error, retry, children }: NotKnownProps) {
  if (asProblem(error).status !== 404) return <Failure error={error} retry={retry} />;
  return (
    <p role="alert" className="plan-said">
      <Mark tone="caution">not known</Mark> {children}
    </p>
  );
}
