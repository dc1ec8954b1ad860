import { useMemo } from 'react';
import { useQuery } from '@tanstack/react-query';
import { api, dataOf } from '../api/client.js';
import { keys } from '../api/keys.js';
import { HeatCurves } from '../kit/heat-curves.js';
import { Loaded } from '../kit/states.js';
import type { HeldHeat } from './hold-heat.js';

/** Samples that are drawn; a wider page shows no more. */
const POINTS = 900;

interface HoldCurveProps {
  readonly heat: HeldHeat;
  readonly trace: string;
}

/** The curve of a heat with its counting line, and what was over it brought out. */
export function HoldCurve({ heat, trace }: HoldCurveProps) {
  // Heats on joints of several alloys have several lines; the lowest is the one that counted first.
  const line = heat.lines[0];
  const curve = useQuery({
    queryKey: keys.curve(trace, { points: POINTS, overC: line?.atC ?? null }),
    queryFn: () => {
      const query = { points: POINTS, ...(line !== undefined && { liquidusC: line.atC }) };
      return dataOf(api.GET('/v1/traces/{trace}/curve', { params: { path: { trace }, query } }));
    },
    // A trace is written once.
    staleTime: Infinity,
  });
  const curves = useMemo(
    () =>
      curve.data === undefined ? [] : [{ name: trace, seconds: curve.data.seconds, channels: curve.data.channels }],
    [curve.data, trace],
  );
  const lines = useMemo(
    () =>
      line === undefined
        ? []
        : [
            { atC: line.atC, label: 'counting line' },
            { atC: line.solidusC, label: `${line.alloy} solidus` },
          ],
    [line],
  );
  return (
    <Loaded query={curve} what="the curve">
      {({ above }) => <HeatCurves curves={curves} lines={lines} above={above} label={`Trace ${trace}`} />}
    </Loaded>
  );
}
