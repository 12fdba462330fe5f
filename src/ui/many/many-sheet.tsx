import { job } from "../job/job-store.ts";
import { Form } from "./form.tsx";
import { Results } from "./results-view.tsx";
import { run } from "./the-run.ts";

/** One question over many jobs like the one on the bench. */
export default function ManySheet() {
  return (
    <>
      <h1>Many jobs at once</h1>
      <p class="lead">
        One question to many jobs like {job.value.name}, each a little different between the ends
        that you set: what the answer does when several things change together.
      </p>
      <div class="spread has-dials">
        <section class="dials" aria-label="What changes">
          <Form />
        </section>
        <div class="reading many">
          {run.value ? (
            <Results run={run.value} />
          ) : (
            <p>
              Each job gets one answer, the likely one; how far they lie apart is the range. The
              same jobs come out here and with the command <code>castclock sweep</code>, which also
              takes millions.
            </p>
          )}
        </div>
      </div>
    </>
  );
}
