import { api, dataOf, type Schemas } from '../api/client.js';

/** Gives a hold to somebody, if it is still of a version. @throws ApiProblem hold-changed where it is not */
export function putAssignment(id: string, body: Schemas['AssignmentBody'], version: string) {
  return dataOf(
    api.PUT('/v1/holds/{id}/assignment', { params: { path: { id }, header: { 'If-Match': version } }, body }),
  );
}
