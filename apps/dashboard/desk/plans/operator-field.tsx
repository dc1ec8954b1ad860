import { useQuery } from '@tanstack/react-query';
import { api, dataOf, type Schemas } from '../api/client.js';
import { keys } from '../api/keys.js';
import { Field } from '../kit/field.js';

interface OperatorFieldProps {
  readonly row: Schemas['PlanRow'];
  readonly value: string;
  readonly onChange: (operator: string) => void;
}

/** Who works: those who have every skill of the route first; of others the gate will warn. */
export function OperatorField({ row: { qualifiedOperators }, value, onChange }: OperatorFieldProps) {
  const operators = useQuery({
    queryKey: [...keys.operators, 'names'],
    queryFn: () => dataOf(api.GET('/v1/operators', { params: { query: { limit: 500 } } })),
  });
  const others = (operators.data?.items ?? [])
    .map(({ name }) => name)
    .filter((name) => !qualifiedOperators.includes(name));
  const isOther = value !== '' && !qualifiedOperators.includes(value);
  return (
    <Field
      label="Operator"
      {...(isOther && {
        error: 'Not qualified today for every step of this route: the gate judges it by the house rule.',
      })}
    >
      <select
        required
        value={value}
        onChange={(event) => {
          onChange(event.target.value);
        }}
      >
        <option value="">choose</option>
        {qualifiedOperators.length > 0 && (
          <optgroup label="Qualified for every step">
            {qualifiedOperators.map((name) => (
              <option key={name}>{name}</option>
            ))}
          </optgroup>
        )}
        {others.length > 0 && (
          <optgroup label="Not qualified for every step">
            {others.map((name) => (
              <option key={name}>{name}</option>
            ))}
          </optgroup>
        )}
      </select>
    </Field>
  );
}
