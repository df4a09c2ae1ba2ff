// The moment a photograph was taken, from its EXIF data: DateTimeOriginal of Exif 2.32 (CIPA DC-008, section 4.6.5).
//
// The date is that of the camera or scanner: of a photograph of an old print it says when the print was photographed.
// Read by libexif; the data come from strangers, so no more than 64 KiB, the most a JPEG segment holds, are given to it.
#pragma once

#include <string>
#include <string_view>

namespace saggar {

struct ExifDate {
    std::string text;  // as written, e.g. "1958:06:14 09:30:00"; empty: there is none
    std::string edtf;  // "1958-06-14T09:30:00"; empty: `text` is no date
};

// `exif`: from the TIFF header on.
ExifDate exif_capture_date(std::string_view exif);

}  // namespace saggar
