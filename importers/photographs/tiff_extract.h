// The few fields of a TIFF file that are wanted, wherever in the file they lie: a camera's TIFF has its directories behind the picture.
//
// TIFF revision 6.0, section 2 (header, image file directory); Exif 2.32, 4.6.3 (the pointer to the Exif directory, 8769) and DateTimeOriginal
// (9003). Every offset is held against the file's end by reading there. At most 4096 fields of a directory are looked at.
#pragma once

#include <cstdint>
#include <functional>
#include <string>

namespace saggar {

// Up to `count` bytes from `offset` on; fewer where the file ends.
using ReadAt = std::function<std::string(std::uint64_t offset, std::size_t count)>;

// A TIFF file of some 150 bytes with the width, the height and the time the picture was taken, as far as the file has them, for
// read_picture_head() and exif_capture_date(). Empty where it is no TIFF file, or its first directory is not in it.
std::string tiff_extract(const ReadAt& read_at);

}  // namespace saggar
