import { ApiProblem, asProblem, problemOf } from './api-problem.js';

describe('A problem', () => {
  it('is read from what the API answers', () => {
    const body = { type: 'urn:heatbook:problem:hold-changed', title: 'Changed', detail: 'Read it again.', status: 412 };
    expect(problemOf(412, body)).toMatchObject({ status: 412, code: 'hold-changed', detail: 'Read it again.' });
  });

  it('is one too where the answer cannot be read as one', () => {
    for (const body of [undefined, null, 'gateway', {}]) {
      const problem = problemOf(502, body);
      expect(problem).toMatchObject({ status: 502, code: 'unknown', title: 'The service answered 502' });
      expect(problem.detail).not.toBe('');
    }
  });

  it('says so where nothing answered', () => {
    expect(asProblem(new TypeError('Failed to fetch'))).toMatchObject({ status: 0, code: 'no-answer' });
    const problem = new ApiProblem(404, 'not-found', 't', 'd', {});
    expect(asProblem(problem)).toBe(problem);
  });
});
