import { lazy, Suspense, useEffect, useRef } from 'react';
import { useSearchParams } from 'wouter';
import { Block } from '../kit/page.js';
import { Waiting } from '../kit/states.js';

// The long list is loaded for itself, after what one comes for.
const Ledger = lazy(async () => ({ default: (await import('../units/ledger.js')).Ledger }));

/** The ledger of a device at the end of its page; an address that names it, or an entry of it, brings it into sight. */
export function DeviceLedger({ device }: { readonly device: string }) {
  const [params] = useSearchParams();
  const [part, seq] = [params.get('part'), params.get('seq')];
  const place = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (part === 'ledger') place.current?.scrollIntoView();
  }, [part, seq]);
  return (
    <div ref={place} className="device-ledger">
      <Block title="Ledger" note="Every entry of this device, on whatever board it was made.">
        <Suspense fallback={<Waiting what="its ledger" />}>
          <Ledger key={device} source={{ kind: 'device', device }} />
        </Suspense>
      </Block>
    </div>
  );
}
