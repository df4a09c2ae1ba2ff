#include "viz/notation.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace saggar::viz {

Outline outline_of_class(std::string_view mapped_class) {
    static constexpr std::pair<std::string_view, Outline> kOutlines[] = {
        {"crm:E21_Person", Outline::pill},
        {"crm:E39_Actor", Outline::lintel},
        {"crm:E53_Place", Outline::hexagon},
        {"crm:E99_Product_Type", Outline::box},
        {"crm:E55_Type", Outline::rounded},
        {"crm:E57_Material", Outline::slanted},
        {"crm:E37_Mark", Outline::octagon},
        {"crm:E31_Document", Outline::folded},
        {"crm:E22_Human-Made_Object", Outline::footed},
    };
    for (const auto& [name, outline] : kOutlines) {
        if (name == mapped_class) return outline;
    }
    return Outline::box;
}

std::string_view outline_in_words(Outline outline) {
    switch (outline) {
        case Outline::box:
            return "plain box";
        case Outline::rounded:
            return "box with round corners";
        case Outline::pill:
            return "box with round ends";
        case Outline::lintel:
            return "box with a heavy top rule";
        case Outline::hexagon:
            return "box with pointed ends";
        case Outline::slanted:
            return "slanted box";
        case Outline::octagon:
            return "box with cut corners";
        case Outline::folded:
            return "box with a folded corner";
        case Outline::footed:
            return "box with a heavy bottom rule";
        case Outline::framed:
            return "box with double rules on both sides";
        case Outline::card:
            return "box with a double rule on the left";
        case Outline::bare:
            return "text without a box";
    }
    return "";
}

std::string_view border_colour(Outline outline) {
    switch (outline) {
        case Outline::lintel:
            return colour::bluish_green;
        case Outline::pill:
            return colour::bluish_green;
        case Outline::hexagon:
            return colour::bluish_green;
        case Outline::folded:
            return colour::reddish_purple;
        case Outline::footed:
            return colour::orange;
        case Outline::octagon:
            return colour::orange;
        case Outline::slanted:
            return colour::sky_blue;
        case Outline::rounded:
            return colour::sky_blue;
        case Outline::box:
        case Outline::card:
        case Outline::framed:
        case Outline::bare:
            return colour::ink;
    }
    return colour::ink;
}

Band band_of(double weight) {
    if (weight >= 0.80) return Band::strong;
    if (weight >= 0.55) return Band::fair;
    if (weight >= 0.20) return Band::weak;
    return Band::faint;
}

LineStyle line_style(Band band) {
    switch (band) {
        case Band::strong:
            return {3.2, "", "solid", "weight 0.80 and more"};
        case Band::fair:
            return {1.8, "", "solid", "weight 0.55 to 0.80"};
        case Band::weak:
            return {1.8, "8 4", "dashed", "weight 0.20 to 0.55"};
        case Band::faint:
            return {1.8, "2 4", "dotted", "weight under 0.20"};
    }
    return kUnweighed;
}

std::string_view line_colour(const DiagramEdge& edge) {
    if (!edge.stance) return colour::ink;
    return *edge.stance == Stance::in_favour ? colour::blue : colour::vermillion;
}

std::string weight_text(double weight) {
    const std::string text = fmt::format("{:.2f}", weight);
    if (text == "0.00" && weight > 0) return "<0.01";
    if (text == "1.00" && weight < 1) return ">0.99";
    return text;
}

std::string numbers_text(const std::vector<int>& numbers) {
    if (numbers.empty()) return {};
    std::vector<int> sorted(numbers);
    std::sort(sorted.begin(), sorted.end());
    sorted.erase(std::unique(sorted.begin(), sorted.end()), sorted.end());
    std::string out = "[";
    for (std::size_t i = 0; i < sorted.size();) {
        std::size_t end = i;
        while (end + 1 < sorted.size() && sorted[end + 1] == sorted[end] + 1) ++end;
        if (out.size() > 1) out += ", ";
        if (end - i >= 2) {
            out += fmt::format("{}-{}", sorted[i], sorted[end]);
            i = end + 1;
        } else {
            out += fmt::format("{}", sorted[i]);
            ++i;
        }
    }
    return out + "]";
}

}  // namespace saggar::viz
