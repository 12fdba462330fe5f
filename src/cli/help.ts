/** What `castclock --help` prints. */
import { ABOUT } from "./about.ts";
import { tableText } from "./table.ts";

export function helpText(version: string): string {
  const list = tableText(
    ["question", "answers"],
    Object.entries(ABOUT).map(([name, about]) => [name, about]),
  );
  return `castclock ${version}: heat and time in making soft-plastic baits

castclock QUESTION JOB.yaml [--json] [--set path=value ...] [--svg DIR] [--problem DIR]
${list.map((line) => `  ${line}`).join("\n")}

castclock notebook [--port N]      the notebook in the browser, served to this machine alone
castclock examples [NAME]          the example jobs that came with it, or the text of one: castclock examples NAME > my.yaml
castclock job JOB.yaml             the job with every default written out
castclock materials                the materials that a job may name
castclock schema job|problem|page   the keys, ranges and defaults of a file, as JSON Schema, for an editor
castclock solve PROBLEM.json       the bare engine: a heat problem given as data
castclock proof [CASE ...]         every check against published values, or those whose name has the word; with --markdown as
                                   a document, whole answers with it, and what has no check from outside
castclock page FILE.md [JOB.yaml]  runs a page of the notebook without a browser
castclock shape FILE [--write JOB.yaml]  the bait from a job's stations, an SVG drawing (side, top, mark) or an STL
                                   mesh, and into a job; of a mesh --set unit=in, up=z, nose=low, of a drawing
                                   mark=50mm, length=110mm, form=lens, nose=left; of any weight=12g or displaced=11ml
castclock plan JOB.yaml [SHOTS.csv]  the evening; with a log anew from the last shot on: mold,injected,opened, times of
                                   the day (19:05:00 or 7:05 PM; plan.start of the job) or from the first shot (0:07:30, 7 min)
castclock sweep JOB.yaml --vary bait.thickness="8 mm..24 mm" --members 1000 --out FILE.csv [--of QUESTION]
                                   a question over many jobs, spread evenly between bounds, on all cores; a sweep that
                                   was stopped goes on with the same command; --workers K, --quick
castclock fit JOB.yaml [LOG.csv]   what a probe's log (time s,temperature degC) or a shop's (seconds,verdict, or injected,opened,
                                   verdict; mold degC and plastic degC where they were read) teaches; --write JOB.yaml keeps
                                   it; without a log, which one would narrow the answer

--json               one JSON object: SI, temperatures in degC; null is none or not known, "never" and "no limit" stand for themselves
--set path=value     a value of the job instead of the file's; may be repeated
--svg DIR            pictures of the answer, as SVG files in DIR
--problem DIR        the bare heat problems that the answer rests on, for castclock solve or a solver of your own
--units metric|us    degC/mm/g or degF/inch/oz; left out: as the job is written
--quick              coarser and faster

The shortest job file:  bait: { thickness: 16 mm }
Exit code 0: answered. 2: the input can't be used, and why is printed. 1: a fault of ours.
`;
}
