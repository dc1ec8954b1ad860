import type { Duplex } from 'node:stream';

/** Bytes of bodies that a process keeps for requests which are not answered yet. */
export interface RoomBounds {
  /** For everybody together. */
  readonly inAll: number;
  /** For one caller; no less than the largest body that may come. */
  readonly ofOne: number;
}

/** Whose share, or everybody's, has no room left. */
export type Crowded = 'of-one' | 'in-all';

/** The body of one request as it comes in. */
export interface BodyPlace {
  /** Takes room for so many more bytes, or none of them and says what is full. */
  grow(bytes: number): Crowded | undefined;
  /** Gives back all that it took. More than once does no harm. */
  leave(): void;
}

/**
 * Counts what bodies take up from their first byte until their request is answered: from what has come in, not from what was
 * announced, so that whoever announces much and sends it slowly keeps nobody out.
 */
export class BodyRoom {
  private taken = 0;
  private readonly byCaller = new Map<string, number>();
  private readonly bySocket = new WeakMap<Duplex, Set<BodyPlace>>();

  constructor(private readonly bounds: RoomBounds) {}

  /** @param socket what the request came by: a place is left when it closes, however the request ends */
  enter(caller: string, socket: Duplex): BodyPlace {
    const places = this.placesOf(socket);
    let own = 0;
    const place: BodyPlace = {
      grow: (bytes) => {
        const crowded = this.crowded(caller, bytes);
        if (crowded !== undefined) return crowded;
        own += bytes;
        this.add(caller, bytes);
        return undefined;
      },
      leave: () => {
        places.delete(place);
        this.add(caller, -own);
        own = 0;
      },
    };
    places.add(place);
    return place;
  }

  private crowded(caller: string, bytes: number): Crowded | undefined {
    const { inAll, ofOne } = this.bounds;
    // Whoever is over the own share learns that, and not that the others are to blame.
    if ((this.byCaller.get(caller) ?? 0) + bytes > ofOne) return 'of-one';
    return this.taken + bytes > inAll ? 'in-all' : undefined;
  }

  private add(caller: string, bytes: number): void {
    this.taken += bytes;
    const own = (this.byCaller.get(caller) ?? 0) + bytes;
    if (own === 0) this.byCaller.delete(caller);
    else this.byCaller.set(caller, own);
  }

  /** A response that waits behind others as its connection breaks never closes, so the connection is watched too, once. */
  private placesOf(socket: Duplex): Set<BodyPlace> {
    const known = this.bySocket.get(socket);
    if (known !== undefined) return known;
    const places = new Set<BodyPlace>();
    this.bySocket.set(socket, places);
    socket.once('close', () => {
      for (const place of [...places]) place.leave();
    });
    return places;
  }
}
