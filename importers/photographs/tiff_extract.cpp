#include "importers/photographs/tiff_extract.h"

#include <algorithm>
#include <array>
#include <string_view>
#include <vector>

namespace saggar {
namespace {

constexpr std::size_t most_fields = 4096;
constexpr std::size_t longest_text = 100;
constexpr std::size_t field_bytes = 12;  // tag:2 type:2 count:4 value or offset:4
constexpr std::uint32_t width_tag = 256;
constexpr std::uint32_t height_tag = 257;
constexpr std::uint32_t exif_tag = 0x8769;
constexpr std::uint32_t taken_tag = 0x9003;
constexpr std::uint32_t text_type = 2;
constexpr std::uint32_t long_type = 4;

// Numbers in the file's own order of bytes.
class TiffNumbers {
public:
    explicit TiffNumbers(bool big) : big_(big) {}

    std::uint32_t read(std::string_view bytes, std::size_t at, std::size_t size) const {
        std::uint32_t number = 0;
        for (std::size_t i = 0; i < size; ++i)
            number = number << 8 | static_cast<unsigned char>(bytes[at + (big_ ? i : size - 1 - i)]);
        return number;
    }
    void write(std::string& out, std::uint32_t number, std::size_t size) const {
        for (std::size_t i = 0; i < size; ++i) {
            const std::size_t place = big_ ? size - 1 - i : i;
            out += static_cast<char>(number >> (8 * place));
        }
    }
    void write_field(std::string& out, std::uint32_t tag, std::uint32_t type, std::uint32_t count, std::uint32_t value) const {
        write(out, tag, 2);
        write(out, type, 2);
        write(out, count, 4);
        write(out, value, 4);
    }

private:
    bool big_;
};

struct Field {
    std::uint32_t tag = 0;
    std::uint32_t count = 0;
    std::string bytes;  // the field as it stands
};

// The wanted fields of the directory at `offset`, in the order of the file.
std::vector<Field> directory(const ReadAt& read_at, const TiffNumbers& numbers, std::uint64_t offset, std::initializer_list<std::uint32_t> wanted) {
    std::vector<Field> fields;
    const std::string head = read_at(offset, 2);
    if (head.size() < 2) return fields;
    const std::size_t count = std::min<std::size_t>(numbers.read(head, 0, 2), most_fields);
    const std::string bytes = read_at(offset + 2, count * field_bytes);
    for (std::size_t at = 0; at + field_bytes <= bytes.size(); at += field_bytes) {
        const std::uint32_t tag = numbers.read(bytes, at, 2);
        if (std::find(wanted.begin(), wanted.end(), tag) != wanted.end())
            fields.push_back({tag, numbers.read(bytes, at + 4, 4), bytes.substr(at, field_bytes)});
    }
    return fields;
}

// The text of DateTimeOriginal; empty where there is none.
std::string time_taken(const ReadAt& read_at, const TiffNumbers& numbers, std::uint64_t exif_offset) {
    for (const Field& field : directory(read_at, numbers, exif_offset, {taken_tag})) {
        const std::size_t count = std::min<std::size_t>(field.count, longest_text);
        if (numbers.read(field.bytes, 2, 2) != text_type || count <= 4) continue;  // four bytes stand in the field itself: no time
        const std::string text = read_at(numbers.read(field.bytes, 8, 4), count);
        if (text.size() == count) return text;
    }
    return {};
}

}  // namespace

std::string tiff_extract(const ReadAt& read_at) {
    const std::string header = read_at(0, 8);
    if (header.size() < 8) return {};
    const bool big = header[0] == 'M';
    if (header.substr(0, 4) != (big ? std::string("MM\0*", 4) : std::string("II*\0", 4))) return {};
    const TiffNumbers numbers(big);
    std::string sizes;
    std::uint32_t size_fields = 0;
    std::string taken;
    for (const Field& field : directory(read_at, numbers, numbers.read(header, 4, 4), {width_tag, height_tag, exif_tag})) {
        if (field.tag == exif_tag) {
            if (taken.empty()) taken = time_taken(read_at, numbers, numbers.read(field.bytes, 8, 4));
        } else if (size_fields < 2) {
            sizes += field.bytes;
            ++size_fields;
        }
    }
    const std::uint32_t fields = size_fields + (taken.empty() ? 0 : 1);
    if (fields == 0) return {};
    std::string out = header.substr(0, 4);
    numbers.write(out, 8, 4);
    numbers.write(out, fields, 2);
    out += sizes;
    const auto exif_at = static_cast<std::uint32_t>(8 + 2 + fields * field_bytes + 4);
    if (!taken.empty()) numbers.write_field(out, exif_tag, long_type, 1, exif_at);
    numbers.write(out, 0, 4);
    if (taken.empty()) return out;
    numbers.write(out, 1, 2);
    numbers.write_field(out, taken_tag, text_type, static_cast<std::uint32_t>(taken.size()), exif_at + 2 + field_bytes + 4);
    numbers.write(out, 0, 4);
    return out + taken;
}

}  // namespace saggar
