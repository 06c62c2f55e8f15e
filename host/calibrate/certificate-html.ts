/** A calibration certificate as one HTML page that prints to two sheets of A4: no script, nothing from outside. */
import { PASCAL_PER_MMHG } from "../readings/pressure.ts";
import { escapeHtml, htmlList, htmlTable } from "../report/html.ts";
import { REPORT_STYLE } from "../report/report-style.ts";
import type { Certificate } from "./certificate.ts";
import { budgetPlot, errorPlot, linearityPlot, plateauColour, temperaturePlot } from "./certificate-plots.ts";
import { termName } from "./choose-model.ts";

const STYLE = `${REPORT_STYLE}
.pair { display: grid; grid-template-columns: 1fr 1fr; gap: 4px 18px; }
.tight td:not(:last-child), .tight th { white-space: nowrap; } .big { font-size: 15px; }
code { font: 11px/1.5 "DejaVu Sans Mono", Menlo, Consolas, monospace; }
@media print { .pair { gap: 2px 14px; } .big { font-size: 13px; } code { font-size: 9.5px; } }
`;

export function certificateHtml(certificate: Certificate): string {
  const { tag, date, note } = certificate;
  const title = `Calibration of sensor ${tag.sensor_serial ?? "without serial"}`;
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escapeHtml(`${title}, ${date}`)}</title>
<style>${STYLE}</style>
</head>
<body>
<h1>${escapeHtml(title)}</h1>
${note?.startsWith("invented") ? `<p><span class="invented">${escapeHtml(note)}</span></p>` : note ? `<p>${escapeHtml(note)}</p>` : ""}
${facts(certificate)}
<p class="big">${escapeHtml(statement(certificate))}</p>
${warnings(certificate)}
<div class="caution">${certificate.cautions.map((caution) => `<p>${escapeHtml(caution)}</p>`).join("")}</div>
<h2>Errors of the calibrated tag</h2>
<div class="pair">
<figure>${errorPlot(certificate)}<figcaption>${plateauLegend(certificate)} Upright triangles going up, hanging ones going down. Grey: ± U.</figcaption></figure>
<figure>${linearityPlot(certificate)}<figcaption>What the cell does before correction: curvature and hysteresis.</figcaption></figure>
</div>
${errorTable(certificate)}
<h2>Model and coefficients</h2>
<p class="soft">Rule: ${escapeHtml(certificate.model.rule)}. Offset and temperature effect act on the absolute pressure; gain, its temperature term and curvature on the difference from ambient. Reference temperature ${certificate.model.reference_temperature_cel} °C.</p>
${coefficientTable(certificate)}
${htmlList(certificate.model.choice.map(({ term, reason }) => `${termName(term)}: ${reason}`))}
<h2 class="second">Uncertainty of a later reading</h2>
${budgetTable(certificate)}
<div class="pair">
<figure>${budgetPlot(certificate)}</figure>
<figure>${temperaturePlot(certificate)}<figcaption>${escapeHtml(temperatureLine(certificate))}</figcaption></figure>
</div>
<h2>Data</h2>
${dataTable(certificate)}
<p class="soft">${certificate.run.rows_read} rows read, ${certificate.run.points.length} points fitted. Every point stands in the JSON form of this certificate.</p>
<h2>Calibration block</h2>
${certificate.block === null ? "<p>No block could be made; the reasons stand above.</p>" : `<p><code>${escapeHtml(certificate.block.words)}</code></p>`}
<p class="soft">${escapeHtml(`${certificate.software}, layout ${certificate.layout}, specification ${certificate.fingerprint}`)}</p>
</body>
</html>
`;
}

function facts({ tag, date, valid_until, reuse, method, range, reference, load }: Certificate): string {
  const limit = reuse.limit === null ? "no limit set" : `to be retired at ${reuse.limit}`;
  const temperature =
    range.temperature_low_cel === null
      ? "not known"
      : `${range.temperature_low_cel.toFixed(1)} to ${range.temperature_high_cel!.toFixed(1)} °C`;
  const rows: readonly (readonly [string, string])[] = [
    ["Tag", tag.epc ?? "not stated"],
    ["Date", date],
    ["Method", method.replaceAll("_", " ")],
    ["Valid to", valid_until === null ? "not limited" : `${valid_until}, or to the next reuse cycle`],
    [
      "Load",
      load === "pressure"
        ? "reference pressure"
        : load === "tension"
          ? "strap on a form, by Laplace"
          : "weight on an area",
    ],
    ["Reuse cycles", `${reuse.count} (${limit})`],
    ["Pressure", `${mmhg(range.pressure_low_pa)} to ${mmhg(range.pressure_high_pa)} mmHg`],
    ["Temperature", temperature],
    ["Reference", reference ?? "not stated"],
    ["Ambient", `${(range.ambient_mean_pa / 100).toFixed(2)} hPa on average`],
  ];
  return `<dl>${rows.map(([name, value]) => `<dt>${escapeHtml(name)}</dt><dd>${escapeHtml(value)}</dd>`).join("")}</dl>`;
}

function statement({ budget, range }: Certificate): string {
  if (budget.expanded_pa === null) return "No expanded uncertainty can be stated: a contribution is not known.";
  const within = `from ${mmhg(range.pressure_low_pa)} to ${mmhg(range.pressure_high_pa)} mmHg`;
  return `Expanded uncertainty of a later reading ${within}: U = ${budget.expanded_mmhg!.toFixed(2)} mmHg (${budget.in_block_pa} Pa), k = 2, about 95 %; ambient of that reading not included.`;
}

function warnings({ findings }: Certificate): string {
  if (findings.length === 0) return "";
  return `<div class="caution">${htmlList(findings.map(({ sentence }) => sentence))}</div>`;
}

function plateauLegend({ run }: Certificate): string {
  const plateaus = [...new Set(run.points.map(({ plateau }) => plateau))].sort((a, b) => a - b);
  const entries = plateaus.map((plateau) => {
    const temperatures = run.points.flatMap((point) =>
      point.plateau === plateau && point.temperature_cel !== null ? [point.temperature_cel] : [],
    );
    if (temperatures.length === 0) return "";
    const mean = temperatures.reduce((total, value) => total + value, 0) / temperatures.length;
    return `<span style="color:${plateauColour(plateau)}">■ ${mean.toFixed(1)} °C</span>`;
  });
  return `${entries.join(" ")}.`;
}

function errorTable({ errors, lack_of_fit: lack }: Certificate): string {
  const none = "not known";
  const share = (error: { percent_of_span: number } | null) =>
    error === null ? "" : `${error.percent_of_span.toFixed(3)} %`;
  const at = (error: { at_pa: number } | null) => (error === null ? "" : `at ${mmhg(error.at_pa)} mmHg`);
  const lines = errors.non_linearity_of_the_cell;
  const zero = [...errors.zero_return].sort((a, b) => Math.abs(b.change_pa) - Math.abs(a.change_pa))[0];
  const rows: string[][] = [
    [
      "Hysteresis, largest",
      errors.hysteresis ? both(errors.hysteresis.value_pa) : none,
      share(errors.hysteresis),
      at(errors.hysteresis),
    ],
    [
      "Repeatability, standard deviation",
      errors.repeatability ? both(errors.repeatability.sd_pa) : none,
      errors.repeatability ? `${((100 * errors.repeatability.sd_pa) / errors.span_pa).toFixed(3)} %` : "",
      errors.repeatability ? `${errors.repeatability.degrees_of_freedom} degrees of freedom` : "",
    ],
    ...(["terminal", "independent", "least_squares"] as const).map((line) => [
      `Non-linearity of the cell, ${line.replace("_", " ")} line`,
      lines ? both(lines[line]!.value_pa) : none,
      share(lines?.[line] ?? null),
      at(lines?.[line] ?? null),
    ]),
    ...errors.creep.map(({ at_pa, change_pa, duration_s }) => [
      "Creep at hold",
      both(change_pa),
      `${((100 * change_pa) / errors.span_pa).toFixed(3)} %`,
      `at ${mmhg(at_pa)} mmHg over ${duration_s.toFixed(0)} s`,
    ]),
    [
      "Zero return, largest",
      zero ? both(zero.change_pa) : none,
      zero ? `${((100 * zero.change_pa) / errors.span_pa).toFixed(3)} %` : "",
      zero ? `cycle ${zero.cycle}` : "",
    ],
  ];
  if (lack?.f && lack.f_degrees_of_freedom) {
    const [a, b] = lack.f_degrees_of_freedom;
    rows.push(["Lack of fit", `F(${a}, ${b}) = ${lack.f.toPrecision(3)}`, "", "against the scatter of replicates"]);
  }
  return htmlTable(["", "mmHg (Pa)", "of span", ""], rows);
}

function budgetTable({ budget }: Certificate): string {
  const rows = budget.contributions.map((contribution) => {
    const { half_width_pa: half, standard_uncertainty_pa: u, degrees_of_freedom: dof } = contribution;
    return [
      contribution.id.replaceAll("_", " "),
      contribution.origin,
      half === null ? contribution.distribution : `rectangular ± ${half.toPrecision(3)} Pa`,
      u === null ? "not known" : `${u.toPrecision(3)} Pa`,
      dof === null ? "∞" : dof.toFixed(0),
      contribution.note,
    ];
  });
  const dof = budget.effective_degrees_of_freedom;
  if (budget.combined_pa !== null) {
    const nu = dof === null || dof > 999 ? "> 999" : dof.toFixed(0);
    const factor = `factor for 95.45 % at these degrees of freedom: ${budget.coverage_factor_95_45.toFixed(3)}`;
    rows.push(["combined", "", "", `${budget.combined_pa.toPrecision(3)} Pa`, nu, factor]);
    rows.push([
      "expanded, k = 2",
      "",
      "",
      `${budget.expanded_pa!.toPrecision(3)} Pa`,
      "",
      `in the block, rounded up: ${budget.in_block_pa} Pa`,
    ]);
  }
  rows.push(["ambient of the reading", "excluded", "", "", "", "added by whoever reads, root sum of squares"]);
  return htmlTable(["contribution", "origin", "distribution", "standard uncertainty", "dof", ""], rows, "tight");
}

function coefficientTable({ model }: Certificate): string {
  const rows = model.coefficients.map(({ term, unit, value, standard_uncertainty: u, raw, quantised }, i) => [
    termName(term),
    value.toPrecision(7),
    u === null ? "not known" : u.toPrecision(2),
    unit === "1" ? "" : unit,
    raw === null ? "" : `${raw}`,
    quantised === null ? "" : quantised.toPrecision(7),
    model.correlations[i]!.slice(0, i)
      .map((r) => r?.toFixed(3) ?? "?")
      .join("  "),
  ]);
  return htmlTable(["coefficient", "value", "u", "unit", "raw", "in the block", "correlation with those above"], rows);
}

/** Mean errors at each level and plateau, going up and down. */
function dataTable({ run: { points } }: Certificate): string {
  const plateaus = [...new Set(points.map(({ plateau }) => plateau))].sort((a, b) => a - b);
  const levels = [...new Set(points.map(({ level_pa }) => level_pa))].sort((a, b) => a - b);
  const mean = (values: readonly number[]) => values.reduce((total, value) => total + value, 0) / values.length;
  const head = plateaus.flatMap((plateau) => {
    const temperatures = points.flatMap((point) => (point.plateau === plateau ? (point.temperature_cel ?? []) : []));
    const name = temperatures.length === 0 ? "" : `${mean(temperatures).toFixed(1)} °C `;
    return [`${name}up`, `${name}down`];
  });
  const rows = levels.map((level) => [
    `${mmhg(level)} mmHg`,
    ...plateaus.flatMap((plateau) =>
      ["up", "down"].map((direction) => {
        const errors = points.flatMap((point) =>
          point.level_pa === level && point.plateau === plateau && point.direction === direction
            ? [point.error_pa]
            : [],
        );
        return errors.length === 0 ? "" : `${signed(mean(errors) / PASCAL_PER_MMHG)} (${errors.length})`;
      }),
    ),
  ]);
  return `<p class="soft">Mean of reading less reference in mmHg, with the number of points.</p>${htmlTable(["level", ...head], rows)}`;
}

function temperatureLine({ temperature_alone: alone }: Certificate): string {
  const bound = `A rigid sealed cell would show ${(alone.sealed_gas_pa_per_k / PASCAL_PER_MMHG).toFixed(2)} mmHg per kelvin`;
  if (alone.fitted_pa_per_k === null) return `${bound}; what this one shows was not found.`;
  const own = `${(alone.fitted_pa_per_k / PASCAL_PER_MMHG).toFixed(3)} mmHg per kelvin, ${(100 * alone.share_of_bound!).toFixed(1)} % of it`;
  return `${bound}; this one shows ${own}, before correction.`;
}

function both(pa: number): string {
  return `${(pa / PASCAL_PER_MMHG).toFixed(3)} (${pa.toPrecision(3)})`;
}

function mmhg(pa: number): string {
  return (pa / PASCAL_PER_MMHG).toFixed(1);
}

function signed(value: number): string {
  const text = value.toFixed(3);
  return value < 0 ? text.replace("-", "−") : `+${text}`;
}
