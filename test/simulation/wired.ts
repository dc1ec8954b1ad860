import { SimProcess } from './sim-process.js';
import { StoreLink } from './store-link.js';

/** A store without transactions as one process has it: every question is a step. */
export function wired<T extends object>(inner: T, process: SimProcess, link: StoreLink): T {
  return new Proxy(inner, {
    get: (target, name) => {
      const method: unknown = Reflect.get(target, name);
      if (typeof method !== 'function') return method;
      return async (...asked: unknown[]): Promise<unknown> => {
        const connection = link.connect();
        await process.step(String(name));
        if (link.breaksNow(connection)) throw link.away();
        return Reflect.apply(method, target, asked) as unknown;
      };
    },
  });
}
