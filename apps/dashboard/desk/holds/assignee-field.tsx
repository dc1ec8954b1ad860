import { Field } from '../kit/field.js';
import { useSession } from '../session/session-gate.js';
import { useAssignees } from './use-assignees.js';

/** No account is called so: names begin with a letter or digit. */
export const NOBODY = '~nobody';

interface AssigneeFieldProps {
  readonly value: string;
  readonly onChange: (value: string) => void;
}

/** Who gets it: chosen where accounts may be seen, else typed. */
export function AssigneeField({ value, onChange }: AssigneeFieldProps) {
  const { name } = useSession();
  const people = useAssignees();
  if (people === undefined) {
    return (
      <Field label="Who works on them" hint={`Name of the account, such as ${name}.`}>
        <input
          required
          autoComplete="off"
          spellCheck={false}
          maxLength={64}
          value={value}
          onChange={(event) => {
            onChange(event.target.value.trim());
          }}
        />
      </Field>
    );
  }
  return (
    <Field label="Who works on them">
      <select
        required
        value={value}
        onChange={(event) => {
          onChange(event.target.value);
        }}
      >
        <option value="" disabled>
          choose somebody
        </option>
        {people.map((person) => (
          <option key={person.name} value={person.name}>
            {person.printedName} ({person.name}), {person.roles.join(', ')}
          </option>
        ))}
        <option value={NOBODY}>Nobody: give them back</option>
      </select>
    </Field>
  );
}
