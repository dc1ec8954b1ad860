/** An object with some members in place of its own. */
export function overlaid<T extends object>(inner: T, own: Partial<T>): T {
  return new Proxy(inner, {
    get: (target, name) => {
      const mine: unknown = Reflect.get(own, name);
      if (mine !== undefined) return mine;
      const method: unknown = Reflect.get(target, name);
      return typeof method === 'function' ? (method.bind(target) as unknown) : method;
    },
  });
}
