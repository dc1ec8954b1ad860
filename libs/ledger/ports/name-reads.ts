/** A unit as it is found by its name. */
export interface NamedUnit {
  readonly assembly: string;
  readonly serial: string;
  /** Empty where the assembly is not set up. */
  readonly customer: string;
  readonly state: string;
}

/** A device as it is found by its name. */
export interface NamedDevice {
  readonly device: string;
  readonly state: string;
  /** The unit that carries it, or null. */
  readonly unit: { readonly assembly: string; readonly serial: string } | null;
}

export interface NamedAssembly {
  readonly assembly: string;
  readonly customer: string;
}

/** Serials that begin so; of one assembly, or of all. */
export interface SerialWish {
  readonly assembly?: string;
  readonly serial: string;
}

/**
 * Finds what is named by the beginning of its name. Names are compared by code unit, so that one that is the text itself comes
 * before all that go on after it. At most `limit` are given.
 */
export interface NameReads {
  /** By serial and then assembly. */
  unitsNamed(wish: SerialWish, limit: number): Promise<readonly NamedUnit[]>;
  devicesNamed(beginning: string, limit: number): Promise<readonly NamedDevice[]>;
  /** Assemblies as their newest revisions have them. */
  assembliesNamed(beginning: string, limit: number): Promise<readonly NamedAssembly[]>;
}
