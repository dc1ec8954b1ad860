/** What a request comes to while it is being made and spoiled. */
export interface RequestDraft {
  kind: string;
  method: string;
  segments: string[];
  query: [string, string][];
  /** Put behind the address as it is. */
  tail: string;
  headers: Record<string, string>;
  body: Buffer | undefined;
}

/** Path and query as they are sent. Node sends no spaces and controls in them; what does is sent over a bare socket. */
export function targetOf({ segments, query, tail }: RequestDraft): string {
  const text = query.map(([name, value]) => `${encoded(name)}=${encoded(value)}`).join('&');
  const target = `/${segments.join('/')}${text === '' ? '' : `?${text}`}${tail}`;
  return target.replace(/[^\x21-\xff]/g, encoded);
}

export function encoded(text: string): string {
  // Half of a surrogate pair cannot be encoded.
  return encodeURIComponent(text.replace(/\p{Cs}/gu, '\ufffd'));
}
