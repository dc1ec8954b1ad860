import { parseStream, StreamKey, Subject } from '../../domain/subject/subject.js';

/** Reserved by RFC 2606, section 3: nobody owns it and nothing answers there. What stands below it is a name, no address. */
const NOBODYS = 'heatbook.example';

/**
 * Names for what an EPCIS document speaks of: URLs of the house's own, in the shape that CBV has for private ones
 * (`…/obj/…` for things, `…/loc/…` for places, `…/class/…` for lots, `…/bt/…` for transactions; from memory). They need no
 * GS1 key. docs/guide/epcis.md has them in a table.
 */
export class HouseUris {
  private readonly base: string;

  /**
   * @param origin of the house's log. One that begins with a domain makes names below that domain; another, or none, makes
   * names below `heatbook.example`.
   */
  constructor(origin: string | null) {
    const path = origin?.split('/').map(encodeURIComponent).join('/');
    const isDomain = origin !== null && /^[a-z0-9-]+(\.[a-z0-9-]+)+(\/|$)/i.test(origin);
    this.base = isDomain ? `https://${String(path)}` : `https://${NOBODYS}/${path ?? 'heatbook'}`;
  }

  unit(assembly: string, serial: string): string {
    return `${this.base}/units/${encodeURIComponent(assembly)}/obj/${encodeURIComponent(serial)}`;
  }

  device(device: string): string {
    return `${this.base}/devices/obj/${encodeURIComponent(device)}`;
  }

  station(station: string): string {
    return `${this.base}/stations/loc/${encodeURIComponent(station)}`;
  }

  /** A channel of a station's logger. */
  thermocouple(station: string, channel: string): string {
    return `${this.base}/stations/${encodeURIComponent(station)}/obj/${encodeURIComponent(channel)}`;
  }

  trace(name: string): string {
    return `${this.base}/traces/obj/${encodeURIComponent(name)}`;
  }

  /** @param material `flux`, `solder`, `paste` or `balls` */
  lot(material: string, lot: string): string {
    return `${this.base}/lots/${encodeURIComponent(material)}/class/${encodeURIComponent(lot)}`;
  }

  workOrder(workOrder: string): string {
    return `${this.base}/orders/bt/${encodeURIComponent(workOrder)}`;
  }

  /** The thing that a ledger is of; undefined for that of a station. */
  thingOf(ledger: StreamKey): string | undefined {
    const stream = parseLedger(ledger);
    if (stream?.kind === 'unit') return this.unit(stream.assembly, stream.serial);
    return stream?.kind === 'device' ? this.device(stream.device) : undefined;
  }

  /** A site is named by its unit: it is no thing that moves. */
  ofSubject(subject: Subject): string {
    return subject.kind === 'device' ? this.device(subject.device) : this.unit(subject.assembly, subject.serial);
  }
}

/** As `parseStream`, but for devices that are called after their place, whose names may be longer than others. */
function parseLedger(ledger: StreamKey): ReturnType<typeof parseStream> {
  if (ledger.startsWith('devices/')) return { kind: 'device', device: ledger.slice('devices/'.length) };
  return parseStream(ledger);
}
