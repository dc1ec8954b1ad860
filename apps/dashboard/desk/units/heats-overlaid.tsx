import { useQueries } from '@tanstack/react-query';
import { useMemo } from 'react';
import { asProblem } from '../api/api-problem.js';
import { HeatCurves } from '../kit/heat-curves.js';
import { curveQuery, type TraceCurve } from '../kit/heat-curves-query.js';
import { Waiting } from '../kit/states.js';
import { heatsDrawn, type ToldHeat } from './told-heats.js';

interface HeatsOverlaidProps {
  /** Those that were chosen; of them, those with a trace are drawn. */
  readonly heats: readonly ToldHeat[];
}

/** The curves of heats over each other. */
export function HeatsOverlaid({ heats }: HeatsOverlaidProps) {
  const traced = useMemo(
    () => heats.flatMap((heat) => (heat.trace === undefined ? [] : [{ heat, trace: heat.trace }])),
    [heats],
  );
  const curves = useQueries({
    queries: traced.map(({ heat, trace }) => curveQuery(trace, heat.line?.atC ?? null)),
    combine: (asked) => asked.map(({ data, error, isPending }) => ({ data, error, isPending })),
  });
  const drawn = useMemo(
    () => heatsDrawn(traced.flatMap(({ heat }, n) => withCurve(heat, curves[n]?.data))),
    [traced, curves],
  );
  if (traced.length === 0) {
    return (
      <p className="quiet">None of the chosen heats has a trace; what their stations summed up is in the table.</p>
    );
  }
  return (
    <>
      {curves.some(({ isPending }) => isPending) && <Waiting what="the curves" />}
      {traced.map(({ heat, trace }, n) => {
        const error = curves[n]?.error;
        return (
          error !== null &&
          error !== undefined && (
            <p key={heat.seq} className="field__error">
              The curve of entry {heat.seq} (trace {trace}) is not drawn. {asProblem(error).detail}
            </p>
          )
        );
      })}
      {drawn.curves.length > 0 && <HeatCurves {...drawn} label={labelOf(heats)} />}
    </>
  );
}

function withCurve(heat: ToldHeat, curve: TraceCurve | undefined) {
  return curve === undefined ? [] : [{ heat, curve }];
}

function labelOf(heats: readonly ToldHeat[]): string {
  const named = heats.filter(({ trace }) => trace !== undefined).map(({ seq, title }) => `entry ${seq} (${title})`);
  return `Temperature over time of ${named.join(', ')}`;
}
