/** Leaves out the members that were not given, which the classes of queries and bodies hold as undefined. */
export function given<T extends object>(members: T): { [K in keyof T]?: Exclude<T[K], undefined> } {
  return Object.fromEntries(Object.entries(members).filter(([, value]) => value !== undefined)) as {
    [K in keyof T]?: Exclude<T[K], undefined>;
  };
}
