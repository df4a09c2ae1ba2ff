#include "importers/photographs/picture_head.h"

#include <algorithm>
#include <cstddef>

namespace saggar {
namespace {

constexpr std::string_view exif_start("Exif\0\0", 6);

class PictureBytes {
public:
    explicit PictureBytes(std::string_view bytes) : bytes_(bytes) {}

    bool has(std::size_t at, std::size_t count) const { return at <= bytes_.size() && count <= bytes_.size() - at; }
    // 0 where the byte is not there.
    std::uint32_t byte(std::size_t at) const { return at < bytes_.size() ? static_cast<unsigned char>(bytes_[at]) : 0; }
    std::uint32_t big16(std::size_t at) const { return byte(at) << 8 | byte(at + 1); }
    std::uint32_t big32(std::size_t at) const { return big16(at) << 16 | big16(at + 2); }
    std::uint32_t little16(std::size_t at) const { return byte(at) | byte(at + 1) << 8; }
    std::uint32_t little24(std::size_t at) const { return little16(at) | byte(at + 2) << 16; }
    std::uint32_t little32(std::size_t at) const { return little16(at) | little16(at + 2) << 16; }
    bool is(std::size_t at, std::string_view text) const {
        return has(at, text.size()) && bytes_.substr(at, text.size()) == text;
    }
    std::string_view part(std::size_t at, std::size_t count) const {
        return has(at, count) ? bytes_.substr(at, count) : std::string_view();
    }
    std::size_t size() const { return bytes_.size(); }

private:
    std::string_view bytes_;
};

using Found = std::optional<PictureHead>;

Found sized(PictureHead head) {
    if (head.width == 0 || head.height == 0) return std::nullopt;
    return head;
}

std::string_view without_exif_start(std::string_view exif) {
    return exif.substr(0, exif_start.size()) == exif_start ? exif.substr(exif_start.size()) : exif;
}

// T.81, table B.1: SOF0 to SOF15 without DHT (C4), JPG (C8) and DAC (CC).
bool is_frame_marker(std::uint32_t marker) {
    return marker >= 0xC0 && marker <= 0xCF && marker != 0xC4 && marker != 0xC8 && marker != 0xCC;
}

Found read_jpeg(const PictureBytes& bytes) {
    PictureHead head;
    head.medium = "image/jpeg";
    std::size_t at = 2;
    while (bytes.has(at, 4) && bytes.byte(at) == 0xFF) {
        const std::uint32_t marker = bytes.byte(at + 1);
        if (marker == 0xFF) {  // a fill byte
            ++at;
            continue;
        }
        if (marker == 0xD9 || marker == 0xDA) break;  // the end, or the picture itself
        const std::size_t length = bytes.big16(at + 2);
        if (length < 2) break;
        if (is_frame_marker(marker) && bytes.has(at, 9)) {
            head.height = bytes.big16(at + 5);
            head.width = bytes.big16(at + 7);
            return sized(head);
        }
        if (marker == 0xE1 && head.exif.empty() && bytes.is(at + 4, exif_start) && length >= 2 + exif_start.size())
            head.exif = without_exif_start(bytes.part(at + 4, length - 2));
        at += 2 + length;
    }
    return std::nullopt;
}

Found read_png(const PictureBytes& bytes) {
    if (!bytes.is(12, "IHDR")) return std::nullopt;
    PictureHead head{"image/png", bytes.big32(16), bytes.big32(20), {}};
    std::size_t at = 8;
    while (bytes.has(at, 12)) {
        const std::size_t length = bytes.big32(at);
        if (!bytes.has(at + 8, length)) break;
        if (bytes.is(at + 4, "eXIf")) head.exif = without_exif_start(bytes.part(at + 8, length));
        if (bytes.is(at + 4, "IEND") || !head.exif.empty()) break;
        at += 12 + length;
    }
    return sized(head);
}

Found read_webp(const PictureBytes& bytes) {
    PictureHead head;
    head.medium = "image/webp";
    std::size_t at = 12;
    while (bytes.has(at, 8)) {
        const std::size_t length = bytes.little32(at + 4);
        const std::size_t data = at + 8;
        if (bytes.is(at, "VP8X") && length >= 10) {
            head.width = bytes.little24(data + 4) + 1;
            head.height = bytes.little24(data + 7) + 1;
        } else if (bytes.is(at, "VP8L") && head.width == 0 && bytes.byte(data) == 0x2F && bytes.has(data, 5)) {
            const std::uint32_t bits = bytes.little32(data + 1);
            head.width = (bits & 0x3FFF) + 1;
            head.height = (bits >> 14 & 0x3FFF) + 1;
        } else if (bytes.is(at, "VP8 ") && head.width == 0 && bytes.is(data + 3, "\x9D\x01\x2A")) {
            head.width = bytes.little16(data + 6) & 0x3FFF;
            head.height = bytes.little16(data + 8) & 0x3FFF;
        } else if (bytes.is(at, "EXIF")) {
            head.exif = without_exif_start(bytes.part(data, length));
        }
        if (!bytes.has(data, length)) break;
        at = data + length + length % 2;
    }
    return sized(head);
}

Found read_tiff(const PictureBytes& bytes) {
    const bool big = bytes.byte(0) == 'M';
    const auto two = [&](std::size_t at) { return big ? bytes.big16(at) : bytes.little16(at); };
    const auto four = [&](std::size_t at) { return big ? bytes.big32(at) : bytes.little32(at); };
    PictureHead head;
    head.medium = "image/tiff";
    const std::size_t directory = four(4);
    const std::size_t count = two(directory);
    for (std::size_t i = 0; i < count && bytes.has(directory + 2 + 12 * i, 12); ++i) {
        const std::size_t field = directory + 2 + 12 * i;
        const std::uint32_t value = two(field + 2) == 3 ? two(field + 8) : four(field + 8);  // type 3: SHORT, 4: LONG
        if (two(field) == 256) head.width = value;
        if (two(field) == 257) head.height = value;
    }
    head.exif = bytes.part(0, bytes.size());
    return sized(head);
}

}  // namespace

Found read_picture_head(std::string_view text) {
    using namespace std::literals;
    const PictureBytes bytes(text);
    if (bytes.is(0, "\xFF\xD8\xFF")) return read_jpeg(bytes);
    if (bytes.is(0, "\x89PNG\r\n\x1A\n")) return read_png(bytes);
    if (bytes.is(0, "GIF87a") || bytes.is(0, "GIF89a"))
        return sized({"image/gif", bytes.little16(6), bytes.little16(8), {}});
    if (bytes.is(0, "RIFF") && bytes.is(8, "WEBP")) return read_webp(bytes);
    if (bytes.is(0, "II*\0"sv) || bytes.is(0, "MM\0*"sv)) return read_tiff(bytes);
    return std::nullopt;
}

}  // namespace saggar
