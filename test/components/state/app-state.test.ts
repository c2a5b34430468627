import { describe, expect, it } from 'vitest';
import {
  type AppState,
  addFile,
  changeFile,
  changeSettings,
  chooseUnit,
  type FileEntry,
  INITIAL_STATE,
  inspectSettings,
  jobCancelled,
  jobDone,
  jobProgress,
  jobStarted,
  obstacle,
  removeFile,
  startPose,
} from '../../../components/state/app-state.ts';
import { exampleResults } from '../../support/example-results.ts';

const entry = (key: string, role: FileEntry['role'], change: Partial<FileEntry> = {}): FileEntry => ({
  key,
  role,
  name: `${key}.ply`,
  size: 1,
  blob: new Blob([]),
  status: 'read',
  progress: null,
  unit: null,
  shape: null,
  plan: null,
  failure: null,
  ...change,
});
const shape = (unitStated: boolean) =>
  ({ unitStated, unit: 'mm', box: { min: [0, 0, 0], max: [1, 1, 1] } }) as unknown as NonNullable<FileEntry['shape']>;
const ready = (): AppState =>
  addFile(
    addFile(INITIAL_STATE, entry('n', 'nominal', { shape: shape(true) })),
    entry('m', 'measured', { shape: shape(false) }),
  );
const drawing = {} as never;

describe('app state', () => {
  it('names what keeps the job from starting, and never starts before the unit was chosen', () => {
    expect(obstacle(INITIAL_STATE)).toMatch(/nominal/);
    expect(obstacle(ready())).toBe('Choose the unit of m.ply.');
    expect(obstacle(chooseUnit(ready(), 'm', 'inch'))).toBeNull();
    expect(obstacle(changeFile(ready(), 'm', { status: 'failed' }))).toMatch(/cannot be read/);
  });
  it('replaces nominal and plan but collects measured files', () => {
    let s = addFile(ready(), entry('n2', 'nominal'));
    s = addFile(s, entry('m2', 'measured'));
    expect(s.files.map((f) => f.key)).toEqual(['m', 'n2', 'm2']);
  });
  it('marks results as old with the first change that caused it, until measured again', () => {
    const results = exampleResults();
    let s = jobDone(ready(), results, drawing, 1);
    expect(s.stale).toBeNull();
    s = changeSettings(s, { locks: ['z'] }, 'Locked Z');
    s = removeFile(s, 'm');
    expect(s.stale).toBe('Locked Z');
    expect(s.results).toBe(results);
    expect(jobDone(s, results, drawing, 1).stale).toBeNull();
  });
  it('returns to the state before the job when it is stopped', () => {
    const before = jobDone(ready(), exampleResults(), drawing, 1);
    const stopped = jobCancelled(jobProgress(jobStarted(before, 0), { step: 'place', done: 1, total: 2 }));
    expect(stopped.results).toBe(before.results);
    expect(stopped.job.state).toBe('idle');
  });
  it('counts the steps as they come', () => {
    let s = jobStarted(ready(), 0);
    for (const step of ['place', 'place', 'relate']) s = jobProgress(s, { step, done: 0, total: 1 });
    expect(s.job.state === 'working' && s.job.steps).toEqual(['place', 'relate']);
  });
  it('starts a locked fit from the last placement of the same files', () => {
    const results = exampleResults();
    const hashed = (hash: string) => ({ ...shape(true), sha256: hash });
    let s = addFile(INITIAL_STATE, entry('n', 'nominal', { shape: hashed(results.inputs.nominal!.sha256) }));
    s = addFile(s, entry('m', 'measured', { shape: hashed(results.inputs.measured![0].sha256) }));
    s = jobDone(s, results, drawing, 1);
    expect(startPose(s)).toBeNull();
    s = changeSettings(s, { locks: ['z'] }, 'Locked Z');
    expect(startPose(s)).toBe(results.alignment!.matrix);
    expect(startPose(changeFile(s, 'm', { shape: hashed('0'.repeat(64)) }))).toBeNull();
  });
  it('passes on only the settings that were made', () => {
    expect(inspectSettings(INITIAL_STATE.settings)).toEqual({ locks: [] });
    expect(inspectSettings({ leadingEdgeTowards: '+Y', heights: [1, 2], locks: ['x'], acceptPose: false })).toEqual({
      leadingEdgeTowards: '+Y',
      heights: [1, 2],
      locks: ['x'],
    });
  });
});
