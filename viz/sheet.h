// The sheet round a picture: title and description above, legend, cautions, citations and foot below.
//
// A Sheet is filled from top to bottom and knows how far down it is; every picture (diagram, run chart, grid) uses
// it, so all look alike.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "viz/diagram.h"
#include "viz/legend.h"
#include "viz/xml.h"

namespace saggar::viz {

inline constexpr double kMargin = 24, kLeastContent = 640;

struct SheetText {
    std::string name;  // class of the picture
    std::string title, description, made_from, left_out;
    std::string id_prefix;
};

class Sheet {
public:
    // content_width: of the picture itself, px; the sheet is at least kLeastContent wide.
    Sheet(const SheetText& text, double content_width);

    double content_width() const { return content_width_; }
    double width() const { return content_width_ + 2 * kMargin; }
    double y() const { return y_; }
    void skip(double height) { y_ += height; }
    // Where a picture of this width begins so that it stands in the middle.
    double left_for(double picture_width) const { return kMargin + (content_width_ - picture_width) / 2; }
    // Elements are written here, below what stands already.
    XmlWriter& svg() { return svg_; }

    void heading(std::string_view text);
    void paragraph(std::string_view text, double size = 12, bool quiet = false);
    void legend(const std::vector<LegendRow>& rows);
    void cautions(const std::vector<std::string>& cautions);
    void citations(const std::vector<Citation>& citations);

    // Writes the foot and gives the whole file.
    std::string finish();

private:
    double citation(const Citation& citation, double x, double top, double width,
                    double number_column);  // gives where it ends
    double legend_sample(const LegendRow& row, double x, double top);
    double legend_row(const LegendRow& row, double x, double top);  // gives the height it took

    SheetText text_;
    double content_width_;
    double y_ = kMargin;
    XmlWriter svg_;
};

}  // namespace saggar::viz
