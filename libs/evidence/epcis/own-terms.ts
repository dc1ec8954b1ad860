/** Where the terms are that EPCIS does not have. It is a name: nothing answers there (RFC 2606, section 3). */
export const OWN_NAMESPACE = 'https://heatbook.example/ns/1.0/';

export type OwnTerm = `heatbook:${string}`;

/** `@context` of a document: the terms of EPCIS and CBV 2.0, and our own under the prefix `heatbook`. */
export const EPCIS_CONTEXT = [
  'https://ref.gs1.org/standards/epcis/2.0.0/epcis-context.jsonld',
  { heatbook: OWN_NAMESPACE },
] as const;

/**
 * A value of ours with every member under our prefix, so that JSON-LD keeps it. Numbers, texts and truth values stay as they
 * are; members that are undefined are left out.
 */
export function inOwnTerms(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(inOwnTerms);
  if (value === null || typeof value !== 'object') return value;
  return Object.fromEntries(Object.entries(value).map(([name, member]) => [ownTerm(name), inOwnTerms(member)]));
}

function ownTerm(name: string): OwnTerm {
  return `heatbook:${name}`;
}
