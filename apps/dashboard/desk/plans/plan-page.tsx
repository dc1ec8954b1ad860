import { useQuery } from '@tanstack/react-query';
import { Link, useSearchParams } from 'wouter';
import { api, dataOf, type Schemas } from '../api/client.js';
import { keys } from '../api/keys.js';
import { HouseOnly } from '../kit/house-only.js';
import { Mark } from '../kit/marks.js';
import { Block, Page } from '../kit/page.js';
import { Empty, Loaded } from '../kit/states.js';
import { paths } from '../paths.js';
import { unitStateWords } from '../units/site-words.js';
import { PlanChoice } from './plan-choice.js';
import { PlanResult } from './plan-result.js';
import { planWish, type PlanWish, wishInAddress } from './plan-wish.js';
import { UnitClearances } from './unit-clearances.js';
import './plan-page.css';

/** Which way to dress a site spends least, and the clearance that follows from it. */
export default function PlanPage() {
  return (
    <HouseOnly title="Method plan">
      <Planning />
    </HouseOnly>
  );
}

function Planning() {
  const [address, setAddress] = useSearchParams();
  const wish = planWish(address);
  const { assembly, serial, refdes } = wish;
  const unit = useQuery({
    queryKey: keys.unit(assembly, serial),
    queryFn: () => dataOf(api.GET('/v1/units/{assembly}/{serial}', { params: { path: { assembly, serial } } })),
    enabled: assembly !== '' && serial !== '',
  });
  const newDevice = useNewDevice(wish);
  const plan = usePlan(wish, unit.data);
  const isAsked = refdes !== '' && unit.data !== undefined;
  return (
    <Page title="Method plan">
      <Block
        title="What is to be done"
        note="Four ways to dress the site are compared by what each would spend of this board, its sites and the device."
      >
        <PlanChoice
          wish={wish}
          unit={unit}
          newDevice={newDevice}
          onChange={(next) => {
            setAddress(wishInAddress(next), { replace: true });
          }}
        />
      </Block>
      {unit.data !== undefined && <Stopped unit={unit.data} />}
      {isAsked ? (
        <Loaded query={plan} what="the plan">
          {(made) => (
            <PlanResult
              key={`${assembly}/${serial}/${refdes} ${wish.goal}`}
              plan={made}
              wish={wish}
              unit={unit.data}
              newDevice={newDevice.data}
            />
          )}
        </Loaded>
      ) : (
        <Empty title={unit.data === undefined ? 'Name a unit first.' : 'Now choose the site.'}>
          <p>Then the four methods stand here side by side, and the one that spends least is marked.</p>
        </Empty>
      )}
      {unit.data !== undefined && <UnitClearances assembly={assembly} serial={serial} />}
    </Page>
  );
}

function useNewDevice({ goal, device }: PlanWish) {
  return useQuery({
    queryKey: keys.device(device),
    queryFn: () => dataOf(api.GET('/v1/devices/{device}', { params: { path: { device } } })),
    enabled: goal === 'new-device' && device !== '',
  });
}

/** The plan as of the head of the unit's ledger. While it is made anew for the same site, the last one stays in sight. */
function usePlan({ assembly, serial, refdes, goal, device }: PlanWish, unit: Schemas['Unit'] | undefined) {
  const of = `${assembly}/${serial}/${refdes} ${goal}`;
  const named = goal === 'new-device' && device !== '';
  return useQuery({
    queryKey: ['plan', of, named ? device : '', unit?.headHash],
    queryFn: () =>
      dataOf(api.POST('/v1/method-plans', { body: { assembly, serial, refdes, goal, ...(named && { device }) } })),
    enabled: refdes !== '' && unit !== undefined,
    placeholderData: (last, query) => (query?.queryKey[1] === of ? last : undefined),
  });
}

/** What the plan does not look at and the gate does. */
function Stopped({ unit: { assembly, serial, holds, state } }: { readonly unit: Schemas['Unit'] }) {
  if (holds.length === 0 && state === 'in-house') return null;
  return (
    <p className="plan-stopped">
      <Mark tone="stop">{holds.length > 0 ? 'on hold' : unitStateWords(state)}</Mark>{' '}
      {holds.length > 0 ? (
        <>
          {holds.length === 1 ? 'A hold is' : `${String(holds.length)} holds are`} open on{' '}
          <Link href={paths.unit(assembly, serial)}>this unit</Link>. A plan can be made; clearance is refused for what
          is held until rework or repair was decided.
        </>
      ) : (
        'The unit is not in the house: the plan is as if it were.'
      )}
    </p>
  );
}
