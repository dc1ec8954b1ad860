/** The time until the next of things that come by chance, one every `mean` on average (a Poisson process). */
export function exponential(random: () => number, mean: number): number {
  return -Math.log(1 - random()) * mean;
}
