/** Matches a problem document by its code and status. */
export function problem(code: string, status: number): unknown {
  return expect.objectContaining({ type: `urn:heatbook:problem:${code}`, status });
}

/** `expect.any` and `expect.stringMatching`, without their type that fits everything. */
export const anyText: unknown = expect.any(String);
export const anyNumber: unknown = expect.any(Number);

export function textLike(pattern: RegExp): unknown {
  return expect.stringMatching(pattern);
}
