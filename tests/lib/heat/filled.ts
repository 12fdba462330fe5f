/** The parts of the engine's operator for a problem, laid and filled but not run. */
import { type Connections, makeConnections } from "../../../lib/heat/connections.ts";
import { type Contents, makeContents } from "../../../lib/heat/contents.ts";
import { type Faces, makeFaces } from "../../../lib/heat/faces.ts";
import { makeGrids } from "../../../lib/heat/grid.ts";
import type { Grid } from "../../../lib/heat/grid-type.ts";
import type { OpenFace } from "../../../lib/heat/links.ts";
import type { HeatProblem } from "../../../lib/heat/problem.ts";
import { type Properties, propertiesOf } from "../../../lib/heat/properties.ts";
import { stageSetups } from "../../../lib/heat/stage-setups.ts";

interface Filled {
  readonly grid: Grid;
  readonly T: Float64Array;
  readonly contents: Contents;
  readonly connections: Connections;
  readonly faces: Faces;
  /** Where cells face their surroundings. */
  readonly open: readonly OpenFace[];
  readonly properties: ReadonlyMap<string, Properties>;
}

/** As in its first stage, every cell at 300 K. */
export function filledOf(problem: HeatProblem): Filled {
  const grid = makeGrids(problem)(0);
  const properties = new Map(
    Object.entries(problem.materials).map(([name, m]) => [name, propertiesOf(m, 250, 550)]),
  );
  const T = new Float64Array(grid.nx * grid.ny).fill(300);
  const contents = makeContents(grid, problem.materials, properties, T);
  const { setting } = stageSetups(problem, grid.regions, true)[0]!;
  contents.configure(setting);
  const connections = makeConnections(grid, contents);
  const open = connections.connect(setting);
  const faces = makeFaces(contents, connections);
  faces.configure(setting, open);
  return { grid, T, contents, connections, faces, open, properties };
}
