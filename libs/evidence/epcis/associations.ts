import { Effect } from '../../domain/book/effect.js';
import { SealedEntry } from '../../ledger/ports/seal.js';
import { BizStep, EpcisStatement } from './epcis-event.js';
import { HouseUris } from './house-uris.js';
import { inOwnTerms } from './own-terms.js';

interface Carried {
  readonly device: string;
  readonly refdes: string;
}

/**
 * What an entry did to the devices of its unit: they were found aboard (OBSERVE), put on (ADD) or taken off (DELETE); one
 * that was given up with that is destroyed besides. Devices that came without a name are called after their place.
 * @param told step of the entry itself: devices are found aboard in its course
 */
export function associationsOf(entry: SealedEntry, told: BizStep, uris: HouseUris): readonly EpcisStatement[] {
  const unit = uris.thingOf(entry.subject);
  if (unit === undefined) return [];
  const effects = entry.effects as Effect[];
  const between = (
    action: 'OBSERVE' | 'ADD' | 'DELETE',
    bizStep: BizStep,
    carried: readonly Carried[],
  ): EpcisStatement => ({
    facts: {
      type: 'AssociationEvent',
      ...{ action, bizStep, parentID: unit, childEPCs: carried.map(({ device }) => uris.device(device)) },
    },
    stays: true,
    own: {
      'heatbook:places': carried.map(({ device, refdes }) => ({
        id: uris.device(device),
        ...(inOwnTerms({ device, refdes }) as object),
      })),
    },
  });
  const aboard = foundAboard(effects, entry.subject);
  return [
    ...(aboard.length === 0 ? [] : [between('OBSERVE', told, aboard)]),
    ...effects.flatMap((effect): EpcisStatement[] => {
      if (effect.kind === 'mounted') {
        const carried = [{ device: effect.device, refdes: effect.place.refdes }];
        return [effect.how === 'placed' ? between('ADD', 'installing', carried) : between('OBSERVE', told, carried)];
      }
      if (effect.kind !== 'unmounted') return [];
      const off = between('DELETE', 'removing', [effect]);
      return effect.to === 'scrapped' ? [off, givenUp(uris.device(effect.device))] : [off];
    }),
  ];
}

/** Devices that a unit had when the book opened it, by the names that were read in the same breath. */
function foundAboard(effects: readonly Effect[], unit: string): readonly Carried[] {
  const names = new Map(
    effects.flatMap((effect) => (effect.kind === 'device-named' ? [[effect.formerly, effect.device] as const] : [])),
  );
  return effects.flatMap((effect) => {
    const opens =
      (effect.kind === 'unit-opened' && `${effect.assembly}/${effect.serial}` === unit) ||
      (effect.kind === 'sites-opened' && effect.unit === unit);
    if (!opens) return [];
    return effect.sites.map(({ refdes, device }) => ({ refdes, device: names.get(device) ?? device }));
  });
}

function givenUp(device: string): EpcisStatement {
  return {
    facts: {
      type: 'ObjectEvent',
      ...{ action: 'DELETE', bizStep: 'destroying', disposition: 'disposed', epcList: [device] },
    },
    stays: false,
  };
}
