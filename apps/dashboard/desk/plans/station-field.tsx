import { useQuery } from '@tanstack/react-query';
import { api, dataOf } from '../api/client.js';
import { keys } from '../api/keys.js';
import { Field } from '../kit/field.js';

interface StationFieldProps {
  readonly value: string;
  readonly onChange: (station: string) => void;
}

/** Where the work is done. */
export function StationField({ value, onChange }: StationFieldProps) {
  const stations = useQuery({
    queryKey: keys.stationSetup('every one'),
    queryFn: () => dataOf(api.GET('/v1/stations', { params: { query: { limit: 500 } } })),
  });
  return (
    <Field label="Station">
      <select
        required
        value={value}
        onChange={(event) => {
          onChange(event.target.value);
        }}
      >
        <option value="">choose</option>
        {(stations.data?.items ?? []).map(({ name, kind }) => (
          <option key={name} value={name}>
            {name}, {kind}
          </option>
        ))}
      </select>
    </Field>
  );
}
