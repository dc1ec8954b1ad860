import { useMutation, useQueryClient } from '@tanstack/react-query';
import { Link } from 'wouter';
import { api, dataOf, type Schemas } from '../api/client.js';
import { Button } from '../kit/button.js';
import { Mark } from '../kit/marks.js';
import { SubjectLink } from '../kit/subject-link.js';
import { Ago } from '../kit/when.js';
import { paths } from '../paths.js';
import { useRole } from '../session/session-gate.js';
import { Refusal } from '../kit/refusal.js';

type Notice = Schemas['Notice'];

const KINDS: Readonly<Record<Notice['kind'], string>> = {
  calibration: 'Calibration',
  qualification: 'Qualification',
  moisture: 'Floor life',
  'hold-overdue': 'Hold past its date',
};

/** One notice, with what to do about it; who may says that they see to it. */
export function NoticeRow({ notice }: { readonly notice: Notice }) {
  const { id, kind, level, subject, skill, hold, dueAt, detail, remedy } = notice;
  const mayAcknowledge = useRole('quality', 'admin');
  const queries = useQueryClient();
  const acknowledge = useMutation({
    mutationFn: () => dataOf(api.POST('/v1/notices/{id}/acknowledgement', { params: { path: { id } }, body: {} })),
    onSettled: () => queries.invalidateQueries({ queryKey: ['notices'] }),
  });
  const what = `${KINDS[kind]}${skill === undefined ? '' : `, ${skill}`}`;
  return (
    <li className="notices__row">
      <p>
        <Mark tone={level === 'due' ? 'stop' : 'caution'}>{level === 'due' ? 'past' : 'ahead'}</Mark>{' '}
        <strong>{what}</strong> <SubjectLink subject={subject} />, <Ago at={dueAt} />
        {hold !== undefined && (
          <>
            {' · '}
            <Link href={paths.hold(hold)}>the hold</Link>
          </>
        )}
      </p>
      <p>{detail}</p>
      <p className="notices__remedy">{remedy}</p>
      {mayAcknowledge && (
        <Button
          busy={acknowledge.isPending}
          aria-label={`I see to it: ${what}, ${detail}`}
          onClick={() => {
            acknowledge.mutate();
          }}
        >
          I see to it
        </Button>
      )}
      <Refusal error={acknowledge.error} />
    </li>
  );
}
