// The style sheet of a dossier's page: plain reading on a screen, A4 or Letter on paper.
#pragma once

#include <string_view>

namespace saggar::viz {

inline constexpr std::string_view kPageStyle = R"css(
body { overflow-wrap: anywhere; font: 1rem/1.5 Georgia, "DejaVu Serif", serif; color: #1a1a1a; background: #fff; max-width: 46rem; margin: 0 auto; padding: 1rem; }
h1, h2, h3 { font-family: "DejaVu Sans", Verdana, sans-serif; line-height: 1.25; }
h1 { margin: 0; }
h2 { margin-top: 2rem; border-bottom: 1px solid #595959; }
a { color: #0b4f82; }
.kind { margin: 0; color: #595959; }
nav ul { list-style: none; padding: 0; display: flex; flex-wrap: wrap; gap: 0 1rem; }
.claims li { margin: 0.35rem 0; }
.group { columns: 17rem 2; column-gap: 2rem; padding-left: 1.2rem; }
.group li { break-inside: avoid; }
.weight, .side { color: #595959; font-size: 0.9em; }
.mark { font-weight: bold; font-size: 0.9em; }
.caution { border: 2px solid #1a1a1a; padding: 0 1rem; margin: 1rem 0; }
sup { line-height: 0; }
sup a { padding: 0 0.1em; }
figure { margin: 1.5rem 0; }
.sheet { overflow-x: auto; border: 1px solid #bbb; }
figcaption { font-size: 0.9em; color: #595959; }
.sources { list-style: none; padding: 0; }
.sources li { padding-left: 2rem; text-indent: -2rem; margin: 0.35rem 0; overflow-wrap: anywhere; }
#notes li { overflow-wrap: anywhere; }
footer { margin-top: 3rem; border-top: 1px solid #595959; font-size: 0.85em; color: #595959; }
@media print {
  @page { margin: 18mm; }
  body { max-width: none; padding: 0; font-size: 10.5pt; }
  nav { display: none; }
  a { color: inherit; text-decoration: none; }
  .sheet { overflow: visible; border: 0; }
  .sheet svg { max-width: 100%; max-height: 240mm; height: auto; }
  h2, h3 { break-after: avoid; }
  li, figcaption { break-inside: avoid; }
}
)css";

}  // namespace saggar::viz
