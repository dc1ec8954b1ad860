import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { useLocation } from 'wouter';
import { api, dataOf } from '../api/client.js';
import { keys } from '../api/keys.js';
import { Refusal } from '../kit/refusal.js';
import { Button } from '../kit/button.js';
import { Block } from '../kit/page.js';
import { paths } from '../paths.js';
import { useRole } from '../session/session-gate.js';
import { bodyOf, draftOf, saysNothingNew } from './limit-draft.js';
import { LimitForm } from './limit-form.js';
import type { LimitBody } from './limit-words.js';
import { WhatIfAnswer } from './what-if-answer.js';

interface ReviseLimitProps {
  readonly name: string;
  /** What it says now, or what a new one begins with. */
  readonly now: LimitBody;
  /** Whether there is a limit of that name. */
  readonly known: boolean;
}

/**
 * Writes a revision: what it would change is asked for first, and only what was shown can be adopted. Any change to the draft takes
 * the answer away.
 */
export function ReviseLimit({ name, now, known }: ReviseLimitProps) {
  const mayRevise = useRole('quality', 'admin');
  const queries = useQueryClient();
  const [, go] = useLocation();
  const [draft, setDraft] = useState(() => draftOf(now));
  const params = { path: { limit: name } };
  const ask = useMutation({
    mutationFn: async (body: LimitBody) => ({
      body,
      whatIf: await dataOf(api.POST('/v1/limits/{limit}/what-if', { params, body })),
    }),
  });
  const adopt = useMutation({
    mutationFn: (body: LimitBody) => dataOf(api.PUT('/v1/limits/{limit}', { params, body })),
    onSuccess: async () => {
      await queries.invalidateQueries({ queryKey: keys.limits });
      if (!known) go(paths.limit(name), { replace: true });
    },
  });
  if (!mayRevise) return null;
  const nothingNew = known && saysNothingNew(draft, now);
  return (
    <Block title={known ? 'Revise it' : 'What it is to say'}>
      <LimitForm
        draft={draft}
        onDraft={(next) => {
          setDraft(next);
          ask.reset();
          adopt.reset();
        }}
        onSubmit={() => {
          if (!nothingNew) ask.mutate(bodyOf(draft));
        }}
      >
        <Refusal error={ask.error} />
        <Button tone="main" type="submit" busy={ask.isPending} aria-disabled={nothingNew}>
          What would change?
        </Button>
        {nothingNew && <p className="quiet limit-form__nothing">Nothing is other than what it says now.</p>}
      </LimitForm>
      {ask.data !== undefined && (
        <WhatIfAnswer
          whatIf={ask.data.whatIf}
          unit={ask.data.body.unit}
          adopting={adopt.isPending}
          refused={adopt.error}
          onAdopt={() => {
            adopt.mutate(ask.data.body);
          }}
        />
      )}
    </Block>
  );
}
