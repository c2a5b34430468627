const STORY = `Sample set: a compressor blade of the Tarnbrook Rotor Works

The works, the part and the numbers are invented. Tarnbrook Rotor Works makes small compressors for power plants. Blade
TRW-2107 is forged near net shape and finished on a five-axis machine. Blade 0042 has come back from finishing and was
scanned on its fixture; the next forgings wait to be placed.

Inspect the finished blade: nominal-sections.csv (or nominal.stl), finished-scan.ply and plan.json.
Review a blank:             nominal-sections.csv, one of the blanks and plan.json.

What was planted. The scan stands turned and moved against the nominal blade. The blade is twisted a little more
towards the tip, bowed at mid-span right at its limit, and slightly thick. Its leading edge is too sharp about
15 mm, and has a nick at height 63 mm, between two sections: 0.15 mm deep and 0.4 mm long along the span. The scanner
did not see a patch of the pressure side and a piece of the trailing edge. Some points are off the surface, and some
lie on the platform and on the table.

Four blanks. blank.ply lacks metal in one place on the suction side and is as exact as its mesh. The others are scans of
forgings that stand turned and moved on the rig, each with its own rough root.
  blank-shift.ply  A wide swell on the pressure side draws a best fit away, and leaves less than wanted elsewhere. Shared
                   evenly, its stock is 0.30 mm at six places and more everywhere else: 0.14 mm to spare.
  blank-lost.ply   Pinched at three heights, thin on both sides of each. The best placement leaves 0.10 mm at six places,
                   0.06 mm less than wanted.
  blank-edges.ply  Near net shape: the flanks lie inside the profile band, the edges carry 0.4 to 0.8 mm to be cut.
These values hold with the blank at its planted place along Z; the blade tapers, so its stock grows by 0.01 mm for each
millimetre it stands farther up. expected.json holds the exact values of all that was planted.

What the plan asks for beyond limits. The trailing edge radius is fitted over 45 degrees either way, the stagger is that
of a straight edge laid on the section, and the throat is taken on a cylinder about the engine axis, section C231. Of a
blank it wants 0.16 mm everywhere: 0.08 mm of changed metal, 0.05 mm of chip, 0.03 mm for locating. It names six targets on
the forged root, which all blanks but blank.ply have.

Lengths in millimetres. Z from root to tip, the leading edge towards -X.

Files
`;

/** Text of the sample set's README: the scenario and the list of files. */
export function readme(files: { name: string; about: string }[]): string {
  const lines = files.map(({ name, about }) => `  ${name.padEnd(24)}${about}`);
  return `${STORY}${lines.join('\n')}\n`;
}
