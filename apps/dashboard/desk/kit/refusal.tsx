import { asProblem } from '../api/api-problem.js';

interface FieldError {
  readonly pointer: string;
  readonly detail: string;
}

/** What the API said no to, in full, where the person acted: what is wrong, with which field, and what would mend it. */
export function Refusal({ error }: { readonly error: unknown }) {
  if (error === null || error === undefined) return null;
  const { code, title, detail, members } = asProblem(error);
  const fields = Array.isArray(members['errors']) ? members['errors'].filter(isFieldError) : [];
  return (
    <div role="alert" className="form__error">
      {code === 'invalid-body' ? 'Not taken as it is' : title}. {withoutPointer(detail)}
      {fields.length > 1 && (
        <ul>
          {fields.map((field) => (
            <li key={field.pointer + field.detail}>
              {field.pointer.slice(1)} {field.detail}
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}

/** A detail that begins with where in a body it is: `/scope/part must be …`; people know the field by its name. */
function withoutPointer(detail: string): string {
  return detail.replace(/^\/(?:\w+\/)*(\w+)/, '$1');
}

function isFieldError(value: unknown): value is FieldError {
  if (typeof value !== 'object' || value === null || !('pointer' in value) || !('detail' in value)) return false;
  return typeof value.pointer === 'string' && typeof value.detail === 'string';
}
