/** A name as it stood in a part of an address; what is spelled wrongly stays as it is. */
export function nameIn(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}

/** Addresses inside the desk, without its base. Names are escaped: a device's has colons. */
export const paths = {
  holds: '/',
  hold: (id: string) => `/holds/${encodeURIComponent(id)}`,
  units: '/units',
  unit: (assembly: string, serial: string) => `/units/${encodeURIComponent(assembly)}/${encodeURIComponent(serial)}`,
  device: (device: string) => `/devices/${encodeURIComponent(device)}`,
  plan: '/plan',
  planFor: (assembly: string, serial: string, refdes?: string) =>
    `/plan?${new URLSearchParams({ assembly, serial, ...(refdes !== undefined && { refdes }) }).toString()}`,
  containments: '/containments',
  containment: (id: string) => `/containments/${encodeURIComponent(id)}`,
  stations: '/stations',
  station: (station: string) => `/stations/${encodeURIComponent(station)}`,
  people: '/people',
  limits: '/limits',
  limit: (limit: string) => `/limits/${encodeURIComponent(limit)}`,
  search: (text: string) => `/search?${new URLSearchParams({ q: text }).toString()}`,
};
