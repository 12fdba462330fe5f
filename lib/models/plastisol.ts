/** What a job's plastic does that resin does not. */
import type { Job } from "../job/types.ts";
import type { PlastisolTraits } from "../materials/entry.ts";

/** Traits of the shot: a job's shot is a plastisol always. */
export function plastisolOf({ shot }: Pick<Job, "shot">): PlastisolTraits {
  return shot.material.plastisol!;
}
