#include "kg/weigh/masses.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kg/weigh/profile.h"

namespace saggar {

std::optional<double> Masses::support() const {
    const double free = consistent();
    if (free <= 0) return std::nullopt;
    return std::min(1.0, for_only / free);
}

std::optional<double> Masses::possibility() const {
    const double free = consistent();
    if (free <= 0) return std::nullopt;
    return std::min(1.0, (for_only + neither) / free);  // = 1 - against / free, without cancellation
}

Clarity clarity_of(double both, const Profile& profile) {
    if (both >= profile.no_figure_from) return Clarity::no_figure;
    if (both >= profile.contradictory_from) return Clarity::contradictory;
    if (both >= profile.contested_from) return Clarity::contested;
    return Clarity::clear;
}

std::string word_for(Clarity clarity) {
    switch (clarity) {
        case Clarity::clear: return "clear";
        case Clarity::contested: return "contested";
        case Clarity::contradictory: return "contradictory";
        case Clarity::no_figure: return "no figure";
    }
    return {};
}

std::optional<double> betting_figure(const Masses& masses, double base_rate) {
    const double yes = base_rate * (masses.for_only + masses.neither);
    const double no = (1 - base_rate) * (masses.against_only + masses.neither);
    if (yes + no <= 0) return std::nullopt;
    return yes / (yes + no);
}

std::string figure_text(double value, double half_width) {
    const int digits = half_width <= 0 ? 3 : std::clamp(static_cast<int>(std::floor(-std::log10(half_width) + 1e-9)), 1, 3);
    return fmt::format("{:.{}f}", value, digits);
}

}  // namespace saggar
