// What the head of a picture file says: its format, its size in pixels, and where its EXIF data lie.
//
// JPEG (ITU-T T.81, B.2.2: the frame header), PNG (W3C PNG, third edition: IHDR, eXIf), GIF (GIF89a, section 18),
// WebP (RFC 9649, section 2: VP8, VP8L, VP8X, EXIF) and TIFF (revision 6.0: ImageWidth, ImageLength). Nothing is decoded.
// Every length is checked against the bytes that are there. Linear.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>

namespace saggar {

struct PictureHead {
    std::string_view medium;  // media type, e.g. "image/jpeg"
    std::uint32_t width = 0;  // pixels, as stored
    std::uint32_t height = 0;
    std::string_view exif;  // from its TIFF header on; empty: none. A view of the bytes.
};

// Nothing where the bytes begin like no picture of these formats, or its size does not stand in them.
std::optional<PictureHead> read_picture_head(std::string_view bytes);

}  // namespace saggar
