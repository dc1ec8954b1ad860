/** A bench of the house: its hot-gas station, its dressing place, who works there, and when it is free again. */
export interface Lane {
  readonly hotGas: string;
  readonly dress: string;
  readonly operator: string;
  readonly inspector: string;
  /** Minute of the shift. */
  freeAt: number;
}

export function makeLanes(openAt: number): readonly [Lane, ...Lane[]] {
  const lane = (number: number): Lane => ({
    hotGas: `HOTGAS-${String(number)}`,
    dress: `DRESS-${String(number)}`,
    operator: `op-10${String(number)}`,
    inspector: number % 2 === 1 ? 'op-201' : 'op-202',
    freeAt: openAt,
  });
  return [lane(1), lane(2), lane(3), lane(4)];
}

/** The bench that is free first; of several, the first. */
export function freeLane(lanes: readonly [Lane, ...Lane[]]): Lane {
  return lanes.reduce((first, lane) => (lane.freeAt < first.freeAt ? lane : first));
}
