import { useMutation, useQueryClient } from '@tanstack/react-query';
import { type SyntheticEvent, useEffect, useState } from 'react';
import { asProblem } from '../api/api-problem.js';
import { api, dataOf } from '../api/client.js';
import { Button } from '../kit/button.js';
import { Field } from '../kit/field.js';
import { beginSession } from './begin-session.js';
import './sign-in-page.css';

/** Asks for name and password. What else there is is not said before. */
export function SignInPage() {
  const queries = useQueryClient();
  const [name, setName] = useState('');
  const [password, setPassword] = useState('');
  useEffect(() => {
    document.title = 'Sign in · Heatbook';
  }, []);
  const signIn = useMutation({
    mutationFn: () => dataOf(api.POST('/v1/session', { body: { name, password } })),
    onSuccess: (session) => {
      beginSession(queries, session);
    },
  });
  const submit = (event: SyntheticEvent) => {
    event.preventDefault();
    signIn.mutate();
  };
  return (
    <main className="sign-in">
      <form className="sign-in__sheet" onSubmit={submit}>
        <h1>Heatbook</h1>
        <p className="quiet">The book of every heat: what a board, its sites and its devices have been through.</p>
        <Field label="Name">
          <input
            name="name"
            autoComplete="username"
            autoFocus
            required
            value={name}
            onChange={(event) => {
              setName(event.target.value);
            }}
          />
        </Field>
        <Field label="Password">
          <input
            name="password"
            type="password"
            autoComplete="current-password"
            required
            value={password}
            onChange={(event) => {
              setPassword(event.target.value);
            }}
          />
        </Field>
        {signIn.isError && (
          <p role="alert" className="sign-in__wrong">
            {asProblem(signIn.error).detail}
          </p>
        )}
        <Button tone="main" type="submit" busy={signIn.isPending}>
          Sign in
        </Button>
        <p className="quiet">
          To check an audit that you were given, no account is needed: <a href="/verify">check a file</a>.
        </p>
      </form>
    </main>
  );
}
