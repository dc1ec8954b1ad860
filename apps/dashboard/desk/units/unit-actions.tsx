import { useState } from 'react';
import { Link } from 'wouter';
import type { Schemas } from '../api/client.js';
import { Button } from '../kit/button.js';
import { Modal } from '../kit/modal.js';
import { paths } from '../paths.js';
import { useRole } from '../session/session-gate.js';
import { DESK, HOUSE } from './unit-queries.js';
import { UnitRaiseHold } from './unit-raise-hold.js';
import './unit-actions.css';

/** What one may do about a unit from here. Who may not do it does not see it. */
export function UnitActions({ unit }: { readonly unit: Schemas['Unit'] }) {
  const [raising, setRaising] = useState(false);
  const mayPlan = useRole(...HOUSE) && unit.state === 'in-house';
  const mayHold = useRole(...DESK);
  const close = () => {
    setRaising(false);
  };
  return (
    <>
      {mayPlan && (
        <Link className="button unit-actions__plan" href={paths.planFor(unit.assembly, unit.serial)}>
          Plan a rework
        </Link>
      )}
      {mayHold && (
        <Button
          tone="stop"
          onClick={() => {
            setRaising(true);
          }}
        >
          Raise a hold
        </Button>
      )}
      {raising && (
        <Modal title={`Raise a hold on ${unit.assembly} / ${unit.serial}`} onClose={close}>
          <UnitRaiseHold unit={unit} onRaised={close} />
        </Modal>
      )}
    </>
  );
}
