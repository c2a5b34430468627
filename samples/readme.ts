const STORY = `Sample set: a compressor blade of the Tarnbrook Rotor Works

The works, the part and the numbers are invented. Tarnbrook Rotor Works makes small compressors for power plants. Blade
TRW-2107 is forged near net shape and finished on a five-axis machine. Blade 0042 has come back from finishing and was
scanned on its fixture; the next forging waits to be placed.

Inspect the finished blade: nominal-sections.csv (or nominal.stl), finished-scan.ply and plan.json.
Review the blank:           nominal-sections.csv and blank.ply.

What was planted. The scan stands turned and moved against the nominal blade. The blade is twisted a little more
towards the tip, bowed at mid-span right at its limit, and slightly thick. Its leading edge is too sharp about
15 mm, and has a nick at height 63 mm, between two sections: 0.15 mm deep and 0.4 mm long along the span. The scanner
did not see a patch of the pressure side and a piece of the trailing edge. Some points are off the surface, and some
lie on the platform and on the table. The blank lacks metal in one place on the suction side. expected.json holds the
exact values.

What the plan asks for beyond limits. The trailing edge radius is fitted over 45 degrees either way, the stagger is that
of a straight edge laid on the section, and the throat is taken on a cylinder about the engine axis, section C231.

Lengths in millimetres. Z from root to tip, the leading edge towards -X.

Files
`;

/** Text of the sample set's README: the scenario and the list of files. */
export function readme(files: { name: string; about: string }[]): string {
  const lines = files.map(({ name, about }) => `  ${name.padEnd(24)}${about}`);
  return `${STORY}${lines.join('\n')}\n`;
}
