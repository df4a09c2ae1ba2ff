#include "importers/photographs/region.h"

#include <charconv>

namespace saggar {

std::optional<Region> read_region(std::string_view text) {
    const auto take = [&](std::string_view start) {
        if (text.substr(0, start.size()) != start) return false;
        text.remove_prefix(start.size());
        return true;
    };
    if (!take("xywh=")) return std::nullopt;
    Region region;
    if (take("percent:")) {
        region.percent = true;
    } else {
        take("pixel:");
    }
    std::uint32_t* const numbers[] = {&region.x, &region.y, &region.width, &region.height};
    for (std::uint32_t* const number : numbers) {
        if (number != &region.x && !take(",")) return std::nullopt;
        const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), *number);
        if (error != std::errc()) return std::nullopt;
        text.remove_prefix(static_cast<std::size_t>(end - text.data()));
    }
    if (!text.empty() || region.width == 0 || region.height == 0) return std::nullopt;
    if (region.percent && !lies_within(region, 100, 100)) return std::nullopt;
    return region;
}

bool lies_within(const Region& region, std::uint32_t width, std::uint32_t height) {
    if (region.percent) width = height = 100;
    return std::uint64_t{region.x} + region.width <= width && std::uint64_t{region.y} + region.height <= height;
}

}  // namespace saggar
