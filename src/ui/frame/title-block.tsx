import { job } from "../job/job-store.ts";
import { today } from "../reading/clock.ts";
import { keptWell } from "../reading/kept.ts";

/** In the corner of the sheet, as on a drawing: for whom, from when, kept where. */
export function TitleBlock({ title }: { title: string }) {
  return (
    <footer class="title-block">
      <div class="wide">
        <span class="name-of">Job</span>
        <a href="#/job">{job.value.name}</a>
        {!job.value.own && <span class="not-yours example">example</span>}
        {(job.value.open?.reading.job.fitted.length ?? 0) > 0 && (
          <span class="yours">with its log</span>
        )}
      </div>
      <div>
        <span class="name-of">Sheet</span>
        {title}
      </div>
      <div>
        <span class="name-of">Date</span>
        {today()}
      </div>
      <div>
        <span class="name-of">Castclock {__VERSION__}</span>
        {keptWell.value ? "kept in this browser only" : <span class="error">not being kept</span>}
      </div>
    </footer>
  );
}
