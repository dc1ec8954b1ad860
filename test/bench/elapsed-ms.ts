/** How long something takes, ms. */
export async function elapsedMs(work: () => unknown): Promise<number> {
  const began = performance.now();
  await work();
  return performance.now() - began;
}
