/** The trace that a step's data names, if any. */
export function traceNamed(data: unknown): string | undefined {
  if (typeof data !== 'object' || data === null || !('heat' in data)) return undefined;
  const { heat } = data;
  if (typeof heat !== 'object' || heat === null || !('trace' in heat)) return undefined;
  return typeof heat.trace === 'string' ? heat.trace : undefined;
}
