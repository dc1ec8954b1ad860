import { useMutation, useQueryClient } from '@tanstack/react-query';
import { type SyntheticEvent, useState } from 'react';
import { asProblem } from '../api/api-problem.js';
import { api, dataOf } from '../api/client.js';
import { Button } from '../kit/button.js';
import { Field } from '../kit/field.js';
import { Block } from '../kit/page.js';
import { Ago } from '../kit/when.js';
import { whyNot } from './hold-next.js';
import { renewHold } from './hold-query.js';
import { actionOf, type ExplainedHold } from './hold-shape.js';
import './hold-comments.css';

/** How the house talks about a hold. Customers see nothing of it. */
export function HoldComments({ hold }: { readonly hold: ExplainedHold }) {
  const { comments } = hold;
  if (comments === undefined) return null;
  const why = whyNot(hold, 'comment');
  return (
    <Block title="Comments" note="Within the house: customers do not see them.">
      {comments.length > 0 && (
        <ol className="hold-comments">
          {comments.map(({ by, at, text }, n) => (
            <li key={`${n} ${at}`}>
              <p className="quiet">
                <strong>{by}</strong>, <Ago at={at} />
              </p>
              <p>{text}</p>
            </li>
          ))}
        </ol>
      )}
      {actionOf(hold, 'comment')?.allowed === true && <AddComment id={hold.id} />}
      {why !== null && <p className="quiet">{why}</p>}
    </Block>
  );
}

function AddComment({ id }: { readonly id: string }) {
  const queries = useQueryClient();
  const [text, setText] = useState('');
  const comment = useMutation({
    mutationFn: (said: string) =>
      dataOf(api.POST('/v1/holds/{id}/comments', { params: { path: { id } }, body: { text: said } })),
    onSuccess: async () => {
      setText('');
      await renewHold(queries, id);
    },
  });
  const submit = (event: SyntheticEvent) => {
    event.preventDefault();
    if (!comment.isPending) comment.mutate(text.trim());
  };
  return (
    <form className="form hold-comments__add" onSubmit={submit}>
      <Field label="Add a comment">
        <textarea
          required
          rows={2}
          maxLength={2000}
          value={text}
          onChange={(event) => {
            setText(event.target.value);
          }}
        />
      </Field>
      {comment.isError && (
        <p role="alert" className="form__error">
          {asProblem(comment.error).title}. {asProblem(comment.error).detail}
        </p>
      )}
      <Button type="submit" busy={comment.isPending}>
        Comment
      </Button>
    </form>
  );
}
