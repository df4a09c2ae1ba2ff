// PDF and PNG out of an SVG picture of ours, through the separate program saggar-paint.
//
// Equal pictures give equal bytes on one machine (fonts of the system are used, so not across machines). Cost: 30 ms
// and up for PDF, 100 ms and up for PNG at print size.
#pragma once

#include <string>
#include <string_view>

#include "viz/render/child.h"

namespace saggar::viz {

// Dots to the inch for print.
inline constexpr double kPrintResolution = 300;

std::string svg_to_pdf(std::string_view svg, const ChildLimits& limits = {});

// `resolution`: dots to the inch; the px of the picture is 1/96 inch. Throws LimitFault above 150 million pixels.
std::string svg_to_png(std::string_view svg, double resolution = kPrintResolution, const ChildLimits& limits = {});

}  // namespace saggar::viz
