import { useMutation, useQueryClient } from '@tanstack/react-query';
import { type SyntheticEvent, useState } from 'react';
import { api, dataOf } from '../api/client.js';
import { keys } from '../api/keys.js';
import { Button } from '../kit/button.js';
import { Block } from '../kit/page.js';
import { useSession } from '../session/session-gate.js';
import { PasswordInput } from './password-input.js';
import { Refusal } from '../kit/refusal.js';

/** Sets one's own password. It ends one's sessions, this one too. */
export function OwnPassword() {
  const { name } = useSession();
  const queries = useQueryClient();
  const [current, setCurrent] = useState('');
  const [password, setPassword] = useState('');
  const change = useMutation({
    mutationFn: () =>
      dataOf(api.POST('/v1/people/{name}/password', { params: { path: { name } }, body: { current, password } })),
    onSuccess: () => {
      queries.setQueryData(keys.session, null);
    },
  });
  const submit = (event: SyntheticEvent) => {
    event.preventDefault();
    if (change.isPending) return;
    change.mutate();
    setCurrent('');
    setPassword('');
  };
  return (
    <Block title="Your password" note="A new one ends your sessions: you sign in again with it.">
      <form className="form" onSubmit={submit}>
        <input type="hidden" name="username" autoComplete="username" value={name} readOnly />
        <PasswordInput
          label="Password until now"
          autoComplete="current-password"
          value={current}
          onValue={setCurrent}
        />
        <PasswordInput
          label="New password"
          hint="12 to 256 characters, and not your account’s name."
          autoComplete="new-password"
          value={password}
          onValue={setPassword}
        />
        <Refusal error={change.error} />
        <Button type="submit" busy={change.isPending}>
          Change it
        </Button>
      </form>
    </Block>
  );
}
