/** The questions that can be put to many jobs, each with what its numbers are. */
import type { KindByKey } from "../../lib/answers/kinds.ts";
import type { Job } from "../../lib/job/job.ts";
import type { QuestionOptions } from "../../lib/models/question-options.ts";
import { budget } from "../../lib/questions/budget/budget.ts";
import { budgetKinds } from "../../lib/questions/budget/kinds.ts";
import { demold } from "../../lib/questions/demold/demold.ts";
import { demoldKinds } from "../../lib/questions/demold/kinds.ts";
import { layerKinds } from "../../lib/questions/layer/kinds.ts";
import { layer } from "../../lib/questions/layer/layer.ts";
import { mixKinds } from "../../lib/questions/mix/kinds.ts";
import { mix } from "../../lib/questions/mix/mix.ts";
import { planKinds } from "../../lib/questions/plan/kinds.ts";
import { plan } from "../../lib/questions/plan/plan.ts";
import { pourKinds } from "../../lib/questions/pour/kinds.ts";
import { pour } from "../../lib/questions/pour/pour.ts";
import { shapeKinds } from "../../lib/questions/shape/kinds.ts";
import { shape } from "../../lib/questions/shape/shape.ts";
import { shotsKinds } from "../../lib/questions/shots/kinds.ts";
import { shots } from "../../lib/questions/shots/shots.ts";
import { shrinkKinds } from "../../lib/questions/shrink/kinds.ts";
import { shrink } from "../../lib/questions/shrink/shrink.ts";
import { sprueKinds } from "../../lib/questions/sprue/kinds.ts";
import { sprue } from "../../lib/questions/sprue/sprue.ts";
import { swimKinds } from "../../lib/questions/swim/kinds.ts";
import { swim } from "../../lib/questions/swim/swim.ts";
import { touchKinds } from "../../lib/questions/touch/kinds.ts";
import { touch } from "../../lib/questions/touch/touch.ts";
import { wallsKinds } from "../../lib/questions/walls/kinds.ts";
import { walls } from "../../lib/questions/walls/walls.ts";

export interface Askable {
  readonly run: (job: Job, options?: QuestionOptions) => { readonly answer: unknown };
  readonly kinds: KindByKey;
}

export const askable = {
  shape: { run: shape, kinds: shapeKinds },
  demold: { run: demold, kinds: demoldKinds },
  shots: { run: shots, kinds: shotsKinds },
  layer: { run: layer, kinds: layerKinds },
  pour: { run: pour, kinds: pourKinds },
  walls: { run: walls, kinds: wallsKinds },
  sprue: { run: sprue, kinds: sprueKinds },
  touch: { run: touch, kinds: touchKinds },
  budget: { run: budget, kinds: budgetKinds },
  mix: { run: mix, kinds: mixKinds },
  shrink: { run: shrink, kinds: shrinkKinds },
  plan: { run: plan, kinds: planKinds },
  swim: { run: swim, kinds: swimKinds },
} satisfies Record<string, Askable>;

export type QuestionName = keyof typeof askable;
