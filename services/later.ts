/** A store that is not there yet: each of its methods waits for it, or is refused as `store` refuses. */
export function laterStore<Store extends object>(store: () => Promise<Store>): Store {
  const method = (name: string | symbol) => async (...args: unknown[]): Promise<unknown> => {
    const there = await store();
    return (there[name as keyof Store] as (...args: unknown[]) => unknown).apply(there, args);
  };
  return new Proxy({} as Store, { get: (_, name) => method(name) });
}
