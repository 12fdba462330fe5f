/** What the masters displace in a pour. m3. */
import type { Job } from "../../job/types.ts";
import { baitVolume } from "../bait/body.ts";

/** Share of an elliptic prism as long as it that a master tapered to its ends fills; a guess. */
const TAPERED = 0.8;

/** What one master displaces where the resin of a half stands around it, m3: half the bait, or half an ellipse. */
export function masterVolume({ pour, bait }: Job): number {
  const { masters } = pour;
  if (masters.ofBait && bait.stations.length > 1) return baitVolume(bait) / 2;
  return (Math.PI / 4) * masters.width * masters.height * masters.length * TAPERED;
}
