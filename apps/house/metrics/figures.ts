import { Registry } from 'prom-client';

/** Figures that are looked up when somebody asks. */
export interface FigureSource {
  /** Brings them up to date. Comes to an end soon, whatever is away, and never throws. */
  refresh(): Promise<void>;
  close?(): void;
}

/** All that one process counts, in Prometheus' terms. Labels name routes, states and reasons, never units or customers. */
export class Figures {
  readonly registry = new Registry();
  readonly #sources: FigureSource[] = [];

  get contentType(): string {
    return this.registry.contentType;
  }

  add(source: FigureSource): void {
    this.#sources.push(source);
  }

  /** @param more of what counts for itself: one house may have several faces */
  async text(...more: readonly Registry[]): Promise<string> {
    await Promise.all(this.#sources.map((source) => source.refresh()));
    return Registry.merge([this.registry, ...more]).metrics();
  }

  close(): void {
    for (const source of this.#sources) source.close?.();
  }
}
