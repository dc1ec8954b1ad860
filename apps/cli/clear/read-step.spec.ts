import { readStep } from './read-step.js';

it('reads a type, short or in full, and what is known of the step', () => {
  expect(readStep('device.removed refdes=U1 fate=scrap profile=U1-OFF@B')).toEqual({
    type: 'heatbook.device.removed.v1',
    refdes: 'U1',
    fate: 'scrap',
    profile: { name: 'U1-OFF', revision: 'B' },
  });
  expect(readStep('  heatbook.site.dressed.v1   passes=2 contactSeconds=3.5 flowing=true ')).toEqual({
    type: 'heatbook.site.dressed.v1',
    passes: 2,
    contactSeconds: 3.5,
    flowing: true,
  });
  expect(readStep('device.deballed device=BRD-1:S1:U1')).toMatchObject({ device: 'BRD-1:S1:U1' });
});

it.each([
  ['device.removd refdes=U1', /must begin with one of .*Did you mean device\.removed\?/],
  ['', /must begin with one of/],
  ['unit.shipped', /must begin with one of/],
  ['site.heated refds=U1', /"refds" is none\. Did you mean refdes\?/],
  ['site.heated U1', /"U1" is none/],
  ['site.heated constructor=1', /"constructor" is none/],
  ['site.heated refdes=U1 refdes=U2', /refdes is there twice/],
  ['site.heated type=x', /"type" is none/],
  ['site.dressed passes=', /passes must be a number/],
  ['site.dressed solderC=2,5', /solderC must be a number with a decimal point/],
  ['site.dressed flowing=yes', /flowing must be true or false/],
  ['site.heated profile=OFF', /profile must be a profile and its revision/],
  ['site.heated profile=OFF@A@B', /profile must be a profile and its revision/],
])('refuses %j, and says what to write', (given, wanted) => {
  expect(() => readStep(given)).toThrow(wanted);
});
