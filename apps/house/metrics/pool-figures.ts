import { Gauge, Registry } from 'prom-client';
import { FigureSource } from './figures.js';

/** Connections to the database, as far as figures tell of them. */
export interface PoolState {
  readonly totalCount: number;
  readonly idleCount: number;
  /** Who waits for one. */
  readonly waitingCount: number;
}

/** How the pools of connections of this process stand. */
export function poolFigures(pools: Readonly<Record<string, PoolState>>, registry: Registry): FigureSource {
  const gauge = (name: string, help: string): Gauge<'pool'> =>
    new Gauge({ name, help, labelNames: ['pool'], registers: [registry] });
  const busy = gauge('heatbook_pool_busy', 'Connections to the database that are in use.');
  const waiting = gauge('heatbook_pool_waiting', 'Questions that wait for a connection to the database.');
  return {
    refresh: () => {
      for (const [pool, { totalCount, idleCount, waitingCount }] of Object.entries(pools)) {
        busy.set({ pool }, totalCount - idleCount);
        waiting.set({ pool }, waitingCount);
      }
      return Promise.resolve();
    },
  };
}
