// Regions of pictures: `xywh=` of W3C Media Fragments URI 1.0, section 4.2.2.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>

namespace saggar {

struct Region {
    bool percent = false;
    std::uint32_t x = 0, y = 0, width = 0, height = 0;
};

// "xywh=10,20,30,40", "xywh=pixel:…", "xywh=percent:…": whole numbers, width and height above 0, per cent within 100.
std::optional<Region> read_region(std::string_view text);

// Whether it lies within a picture of this size in pixels.
bool lies_within(const Region& region, std::uint32_t width, std::uint32_t height);

}  // namespace saggar
