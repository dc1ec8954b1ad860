import { useMutation, useQueryClient } from '@tanstack/react-query';
import { type SyntheticEvent, useState } from 'react';
import { api, dataOf, type Schemas } from '../api/client.js';
import { keys } from '../api/keys.js';
import { Button } from '../kit/button.js';
import { Field } from '../kit/field.js';
import { useRole } from '../session/session-gate.js';
import { ClearanceGranted } from './clearance-granted.js';
import { ClearanceRefused } from './clearance-refused.js';
import { OperatorField } from './operator-field.js';
import { type PlanWish, stepsToClear } from './plan-wish.js';
import { StationField } from './station-field.js';
import './clearance-ask.css';

interface ClearanceAskProps {
  readonly row: Schemas['PlanRow'];
  readonly wish: PlanWish;
}

const HOUR_S = 3600;
const HOURS = [1, 4, 8, 24] as const;

/** A route becomes a request: who works, where, and for how long it is to hold. */
export function ClearanceAsk({ row, wish }: ClearanceAskProps) {
  const mayAsk = useRole('operator', 'quality', 'admin');
  const queries = useQueryClient();
  const [operator, setOperator] = useState('');
  const [station, setStation] = useState('');
  const [hours, setHours] = useState<number>(HOURS[0]);
  const { assembly, serial, goal, device } = wish;
  const ask = useMutation({
    mutationFn: () => {
      const steps = stepsToClear(row.steps, goal === 'new-device' ? device : '');
      return dataOf(
        api.POST('/v1/clearances', {
          body: { assembly, serial, operator, station, steps, ttlSeconds: hours * HOUR_S },
        }),
      );
    },
    onSuccess: () =>
      Promise.all([
        queries.invalidateQueries({ queryKey: keys.unit(assembly, serial) }),
        queries.invalidateQueries({ queryKey: ['clearances'] }),
      ]),
  });
  if (!mayAsk) return <p>Operators and quality ask for clearance; your role reads.</p>;
  const submit = (event: SyntheticEvent) => {
    event.preventDefault();
    if (!ask.isPending) ask.mutate();
  };
  return (
    <>
      <form className="form" onSubmit={submit}>
        <OperatorField row={row} value={operator} onChange={setOperator} />
        <StationField value={station} onChange={setStation} />
        <Field label="Held for">
          <select
            value={hours}
            onChange={(event) => {
              setHours(Number(event.target.value));
            }}
          >
            {HOURS.map((one) => (
              <option key={one} value={one}>
                {one === 1 ? '1 hour' : `${String(one)} hours`}
              </option>
            ))}
          </select>
        </Field>
        {goal === 'new-device' && device === '' && (
          <p className="quiet plan-said">
            No device is named for the placement: its excursions and floor life are not looked at.
          </p>
        )}
        <Button tone="main" type="submit" busy={ask.isPending}>
          Ask for clearance
        </Button>
      </form>
      {ask.isError && <ClearanceRefused error={ask.error} />}
      {ask.data !== undefined && <ClearanceGranted clearance={ask.data} />}
    </>
  );
}
