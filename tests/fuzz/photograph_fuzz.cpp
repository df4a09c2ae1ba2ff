// Photographs: the side file, a line of three hyphens, then the picture; its head and its EXIF data are read.
#include <algorithm>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "importers/photographs/caption.h"
#include "importers/photographs/exif_date.h"
#include "importers/photographs/tiff_extract.h"
#include "kg/time/edtf_read.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace saggar;
    const std::string_view all(reinterpret_cast<const char*>(data), size);
    const std::size_t split = std::min(all.find("\n---\n"), all.size());
    const std::string_view picture = split < all.size() ? all.substr(split + 5) : all;
    const auto head = read_picture_head(picture);
    if (head && (head->width == 0 || head->height == 0)) std::abort();
    for (const std::string_view exif : {head ? head->exif : std::string_view(), picture}) {
        const ExifDate date = exif_capture_date(exif);
        if (!date.edtf.empty() && !time::read_edtf(date.edtf)) std::abort();
    }
    const std::string small = tiff_extract([&](std::uint64_t offset, std::size_t count) {
        return offset < picture.size() ? std::string(picture.substr(offset, count)) : std::string();
    });
    if (small.size() > 300) std::abort();
    if (const auto tiff = read_picture_head(small)) exif_capture_date(tiff->exif);
    Problems problems;
    TextInput input("a.txt", open_bytes(all.substr(0, split)), problems);
    const Caption caption = read_caption(input, head ? &*head : nullptr);
    for (const Problem& problem : problems.list()) to_text(problem);
    return 0;
}
