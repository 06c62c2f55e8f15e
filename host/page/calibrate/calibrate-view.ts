/** Calibrate: may this point be taken? The server runs the bench run; this page only shows it and asks. It never writes to a tag. */
import "../styles/bytes.css";
import "../styles/power.css";
import "../styles/calibrate.css";
import type { CalibrateRequest } from "../../view/requests.ts";
import { el, setText } from "../dom/element.ts";
import { onFrame } from "../shell/on-frame.ts";
import type { Mount } from "../shell/view.ts";
import type { Store } from "../store/store.ts";
import { fitPlots } from "./fit-plots.ts";
import { fitLine, outcome, pointsTable } from "./outcome.ts";
import { makeStartForm } from "./start-form.ts";
import { makeStepCard } from "./step-card.ts";

export const mount: Mount = (host, store, text) => {
  const noServer = el("p", { class: "word-fault" });
  const ask = (request: CalibrateRequest) => {
    if (!store.send(request)) setText(noServer, text.say("calibrate.noServer"));
  };
  const tag = el("h2", {});
  const form = makeStartForm(store, text, ask);
  const card = makeStepCard(text, ask);
  const canvas = el("div", { class: "fit-canvas" });
  const line = el("p", { class: "fit-line" });
  const table = el("div", {
    class: "sideways",
    role: "region",
    tabindex: 0,
    "aria-label": text.say("calibrate.points"),
  });
  const fit = el(
    "section",
    { class: "fit", "aria-label": text.say("calibrate.fit") },
    el("h2", {}, text.say("calibrate.fit")),
    line,
    canvas,
    el("p", { class: "soft" }, text.say("calibrate.plot.axis")),
    table,
  );
  const end = el("div", {});
  const again = el(
    "button",
    { type: "button", class: "main", on: { click: () => ask({ type: "calibrate", action: "clear" }) } },
    text.say("calibrate.again"),
  );
  host.append(
    noServer,
    form.element,
    el("div", { class: "calibrate-layout" }, el("div", {}, tag, card.element, end, again), fit),
  );

  let [width, drawnFit, drawnEnd] = [0, "", ""];
  const draw = () => {
    const state = store.calibration;
    const phase = state?.phase ?? "idle";
    const live = store.link === "open";
    const elsewhere = isElsewhere(store);
    setText(noServer, live ? "" : text.say("calibrate.noServer"));
    form.element.hidden = phase !== "idle";
    form.draw();
    const running = state !== null && phase !== "idle" && phase !== "done";
    card.element.hidden = !running;
    tag.hidden = phase === "idle";
    setText(tag, state?.epc ? text.say("calibrate.of", { tag: store.sites.get(state.epc)?.label ?? state.epc }) : "");
    if (running) card.draw(state, live ? (elsewhere ? "elsewhere" : "here") : "nobody");
    fit.hidden = phase === "idle";
    again.hidden = phase !== "done" || elsewhere || !live;
    if (state && phase !== "idle") {
      const key = `${width} ${JSON.stringify(state.points)} ${state.fit?.budget.expanded_mmhg}`;
      if (key !== drawnFit && width > 0) {
        drawnFit = key;
        setText(line, fitLine(state.fit, text));
        canvas.replaceChildren(fitPlots(state.points, state.fit, width, text));
        table.replaceChildren(pointsTable(state.points, text));
      }
    }
    const ending = phase === "done" ? `${state?.csv}` : "";
    if (ending !== drawnEnd) {
      drawnEnd = ending;
      for (const link of end.querySelectorAll("a")) URL.revokeObjectURL(link.href);
      end.replaceChildren(...(state && phase === "done" ? [outcome(state, text)] : []));
    }
  };
  const sized = new ResizeObserver(() => {
    width = canvas.clientWidth;
    draw();
  });
  sized.observe(canvas);
  const stop = onFrame(store, draw);
  return () => {
    stop();
    sized.disconnect();
    for (const link of end.querySelectorAll("a")) URL.revokeObjectURL(link.href);
  };
};

/** Another page guides the run. */
function isElsewhere({ calibration, hello }: Store): boolean {
  const page = calibration?.page ?? null;
  return page !== null && page !== hello?.page;
}
