#include "importers/bag/bag_manifest.h"

#include <fmt/format.h>

#include <algorithm>

#include "importers/line_input.h"
#include "importers/words.h"
#include "kg/model/key.h"
#include "kg/model/text_lines.h"

namespace saggar {
namespace {

constexpr std::string_view payload_start = "data/";
constexpr std::size_t most_path_bytes = 4096;

bool is_hex_digit(char c) { return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f') || (c >= 'A' && c <= 'F'); }

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

}  // namespace

std::string decode_bag_path(std::string_view written) {
    std::string path;
    for (std::size_t i = 0; i < written.size(); ++i) {
        const std::string_view code = written.substr(i, 3);
        char sign = written[i];
        if (code == "%0A" || code == "%0a") sign = '\n';
        if (code == "%0D" || code == "%0d") sign = '\r';
        if (code == "%25") sign = '%';
        if (sign != written[i] || code == "%25") i += 2;
        path += sign;
    }
    return path;
}

std::string encode_bag_path(std::string_view path) {
    std::string written;
    for (const char sign : path) {
        switch (sign) {
            case '\n':
                written += "%0A";
                break;
            case '\r':
                written += "%0D";
                break;
            case '%':
                written += "%25";
                break;
            default:
                written += sign;
        }
    }
    return written;
}

std::string bag_path_danger(std::string_view path) {
    if (path.empty()) return "it is empty";
    if (path.size() > most_path_bytes) return "it is longer than 4096 bytes";
    if (!is_valid_utf8(path)) return "it is not UTF-8";
    if (path.find('\0') != std::string_view::npos) return "it holds a zero byte";
    if (path.front() == '/') return "it begins at the root of the disk";
    if (path.front() == '~') return "it begins with \"~\", a home folder";
    if (path.find('\\') != std::string_view::npos) return "it holds \"\\\", which separates folders on other systems";
    if (path.size() > 1 && path[1] == ':') return "it names a drive";
    for (std::size_t from = 0; from <= path.size();) {
        const std::size_t end = std::min(path.find('/', from), path.size());
        const std::string_view part = path.substr(from, end - from);
        if (part == "..") return "it leads out of its folder by \"..\"";
        if (part.empty() || part == ".") return "it has an empty part";
        from = end + 1;
    }
    return {};
}

std::map<std::string, BagFile> read_bag_manifest(TextInput& input, std::size_t digits, bool payload) {
    std::map<std::string, BagFile> files;
    LineInput lines(input);
    std::string_view line;
    while (lines.next(line)) {
        const auto add = [&](std::string id, std::size_t begin, std::size_t end, std::string message,
                             std::string next) {
            input.problems().add({std::move(id), Severity::error,
                                  place_in_line(input.name(), lines.number(), line, begin, end), std::move(message),
                                  std::move(next)});
        };
        const std::size_t hex =
            static_cast<std::size_t>(std::find_if_not(line.begin(), line.end(), is_hex_digit) - line.begin());
        const std::size_t begin = std::min(line.find_first_not_of(" \t", hex), line.size());
        if (hex != digits || begin == hex || begin == line.size()) {
            add("bag-manifest-line", 0, line.size(),
                fmt::format("the line is not a checksum of {} hexadecimal digits, blanks and a path", digits),
                "get the bag again, or make its manifest anew");
            continue;
        }
        const std::string_view written = line.substr(begin);
        std::string path = decode_bag_path(written);
        std::string danger = bag_path_danger(path);
        const bool in_payload = path.compare(0, payload_start.size(), payload_start) == 0;
        if (danger.empty() && payload && !in_payload) danger = "it is not below data/";
        if (danger.empty() && !payload && in_payload) danger = "a tag manifest names no file below data/";
        if (!danger.empty()) {
            add("bag-path", begin, line.size(), fmt::format("the path \"{}\" is refused: {}", written, danger),
                "do not trust this bag; ask its maker for a sound one");
            continue;
        }
        BagFile file;
        std::transform(line.begin(), line.begin() + static_cast<std::ptrdiff_t>(hex), std::back_inserter(file.checksum),
                       lower);
        file.place = place_in_line(input.name(), lines.number(), line, begin, line.size());
        if (!files.emplace(std::move(path), std::move(file)).second) {
            add("bag-path-twice", begin, line.size(), fmt::format("the path \"{}\" stands twice", written),
                "make the manifest anew");
        }
    }
    return files;
}

}  // namespace saggar
