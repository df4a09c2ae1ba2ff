#include "viz/paint/paint.h"

#include <fmt/format.h>

namespace saggar::viz {

std::string svg_to_pdf(std::string_view svg, const ChildLimits& limits) {
    return run_child(program_beside("saggar-paint"), {"pdf"}, svg, "making the PDF", limits);
}

std::string svg_to_png(std::string_view svg, double resolution, const ChildLimits& limits) {
    return run_child(program_beside("saggar-paint"), {"png", fmt::format("{}", resolution / 96)}, svg, "making the PNG",
                     limits);
}

}  // namespace saggar::viz
