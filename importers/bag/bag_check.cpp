#include "importers/bag/bag_check.h"

#include <fmt/format.h>
#include <unicode/normalizer2.h>

#include <algorithm>
#include <charconv>
#include <map>

#include "importers/bag/bag_manifest.h"
#include "importers/bag/sha256_file.h"
#include "importers/line_input.h"
#include "importers/words.h"
#include "kg/model/fault.h"
#include "kg/model/key.h"
#include "kg/model/sha512.h"
#include "kg/model/text_lines.h"

namespace saggar {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t most_bag_files = 1'000'000;
constexpr std::size_t most_tag_bytes = 512u << 20;
constexpr std::string_view manifest_start = "manifest-";
constexpr std::string_view tag_manifest_start = "tagmanifest-";

bool begins(std::string_view text, std::string_view start) { return text.substr(0, start.size()) == start; }

// The name as a system sees it that ignores case and normal form (UAX #15, NFKC_Casefold).
std::string confused_name(const std::string& path) {
    UErrorCode error = U_ZERO_ERROR;
    const icu::Normalizer2* const normal = icu::Normalizer2::getNFKCCasefoldInstance(error);
    if (U_FAILURE(error)) return path;
    std::string out;
    normal->normalize(icu::UnicodeString::fromUTF8(path), error).toUTF8String(out);
    return out;
}

class BagCheck {
public:
    BagCheck(fs::path folder, std::string name, const TextLimits& limits, Problems& problems)
        : folder_(std::move(folder)), name_(std::move(name)), limits_(limits), problems_(problems) {
        limits_.whole_bytes = std::min(limits_.whole_bytes, most_tag_bytes);
        limits_.file_bytes = std::min<std::uint64_t>(limits_.file_bytes, most_tag_bytes);
    }

    std::vector<std::string> run() {
        if (!gather()) return {};
        declaration();
        manifests();
        oxum();
        confused();
        std::vector<std::string> payload;
        for (const auto& [path, size] : payload_) payload.push_back(path);
        return payload;
    }

private:
    void wrong(std::string id, const std::string& file, std::string message, std::string next,
               Severity severity = Severity::error) {
        problems_.add(
            {std::move(id), severity, Place{name_of(file), 0, 0, "", 0}, std::move(message), std::move(next)});
    }
    std::string name_of(const std::string& file) const { return file.empty() ? name_ : name_ + "/" + file; }

    bool gather() {
        std::error_code error;
        std::size_t count = 0;
        for (fs::recursive_directory_iterator item(folder_, error), end; !error && item != end; item.increment(error)) {
            const std::string path = item->path().lexically_relative(folder_).generic_string();
            if (item->is_symlink() || (!item->is_regular_file() && !item->is_directory())) {
                wrong("bag-special-file", is_valid_utf8(path) ? path : "",
                      "symbolic links and special files do not belong in a bag",
                      "do not trust this bag; ask its maker for a sound one");
                item.disable_recursion_pending();
                continue;
            }
            if (item->is_directory()) continue;
            if (!is_valid_utf8(path)) {
                wrong("bag-file-name", "", "a file has a name that is not UTF-8",
                      "ask the bag's maker for a sound one");
                continue;
            }
            (begins(path, "data/") ? payload_ : tags_)[path] = item->file_size();
            if (++count > most_bag_files) {
                wrong("bag-many-files", "", fmt::format("the bag holds more than {} files", most_bag_files),
                      "ask for it in parts");
                return false;
            }
        }
        if (error) throw UsageFault("cannot read " + folder_.string(), "check the name and the permissions");
        if (!fs::is_directory(folder_ / "data"))
            wrong("bag-no-payload", "", "the bag has no folder data", "get the bag again");
        return true;
    }

    // Section 2.1.1: two lines, in this order, without a byte order mark.
    void declaration() {
        TextInput input(name_of("bagit.txt"), open_file(folder_ / "bagit.txt"), problems_, limits_);
        LineInput lines(input);
        std::vector<std::string> read;
        std::string_view line;
        while (read.size() < 3 && lines.next(line)) read.emplace_back(line);
        const auto refuse = [&](std::size_t at, const std::string& message, const std::string& next) {
            const std::string text = at < read.size() ? read[at].substr(0, 200) : std::string();
            problems_.add({"bag-declaration", Severity::error,
                           place_in_line(input.name(), static_cast<std::uint32_t>(at + 1), text, 0, text.size()),
                           message, next});
        };
        constexpr std::string_view version = "BagIt-Version: ";
        if (read.empty() || !begins(read[0], version))
            return refuse(0, "the first line is not \"BagIt-Version: M.N\"", "get the bag again");
        const std::string number = read[0].substr(version.size());
        if (number != "1.0" && number != "0.97")
            return refuse(0, fmt::format("the bag is of version \"{}\"; 1.0 and 0.97 are read", number),
                          "ask for it in version 1.0");
        if (read.size() < 2 || read[1] != "Tag-File-Character-Encoding: UTF-8")
            return refuse(1, "the second line is not \"Tag-File-Character-Encoding: UTF-8\"",
                          "ask for the bag with its tag files in UTF-8");
        if (read.size() > 2) refuse(2, "there are more than two lines", "get the bag again");
    }

    void manifests() {
        bool any = false;
        for (const auto& [path, size] : tags_) {
            const bool tag = begins(path, tag_manifest_start);
            if ((!tag && !begins(path, manifest_start)) || fs::path(path).extension() != ".txt") continue;
            const std::size_t start = (tag ? tag_manifest_start : manifest_start).size();
            const std::string algorithm = path.substr(start, path.size() - start - 4);
            if (algorithm != "sha512" && algorithm != "sha256") {
                wrong("bag-algorithm", path,
                      fmt::format("the checksum \"{}\" is not checked; sha512 and sha256 are", algorithm),
                      "ask for the bag with a manifest in SHA-512", Severity::warning);
                continue;
            }
            any = any || !tag;
            hold_against(path, algorithm == "sha512", tag);
        }
        if (!any)
            wrong("bag-no-manifest", "", "the bag has no manifest-sha512.txt or manifest-sha256.txt",
                  "ask for it with a manifest in SHA-512");
        if (tags_.count("fetch.txt")) {
            wrong("bag-fetch", "fetch.txt", "the bag wants files fetched from elsewhere; nothing is fetched",
                  "put the files into the bag, take fetch.txt away, and load it again");
        }
    }

    void hold_against(const std::string& manifest, bool sha512, bool tag) {
        TextInput input(name_of(manifest), open_file(folder_ / manifest), problems_, limits_);
        const auto listed = read_bag_manifest(input, sha512 ? 128 : 64, !tag);
        const std::map<std::string, std::uint64_t>& there = tag ? tags_ : payload_;
        for (const auto& [path, file] : listed) {
            if (tag && begins(path, tag_manifest_start)) {
                problems_.add({"bag-path", Severity::error, file.place, "a tag manifest does not name tag manifests",
                               "make it anew"});
            } else if (!there.count(path)) {
                missing(path, file, there);
            } else if ((sha512 ? sha512_of_file(folder_ / path, Sha512::Kind::whole)
                               : sha256_of_file(folder_ / path)) != file.checksum) {
                problems_.add({"bag-altered", Severity::error, file.place,
                               fmt::format("{} is not the file that was packed", path), "get the bag again"});
            }
        }
        for (const auto& [path, size] : there) {
            const bool must = !tag || (begins(path, manifest_start) && fs::path(path).extension() == ".txt");
            if (must && !listed.count(path))
                wrong("bag-extra-file", path, fmt::format("{} does not name this file", manifest),
                      "take the file away, or get the bag again");
        }
    }

    void missing(const std::string& path, const BagFile& file, const std::map<std::string, std::uint64_t>& there) {
        const std::string confused = confused_name(path);
        for (const auto& [other, size] : there) {
            if (confused_name(other) != confused) continue;
            problems_.add({"bag-other-form", Severity::error, file.place,
                           fmt::format("{} is there under a name of other letter case or Unicode normal form", path),
                           "copy the bag by a way that leaves names as they are"});
            return;
        }
        problems_.add(
            {"bag-missing", Severity::error, file.place, fmt::format("{} is not there", path), "get the bag again"});
    }

    // Section 2.2.2: Payload-Oxum is octets.streams.
    void oxum() {
        if (!tags_.count("bag-info.txt")) return;
        TextInput input(name_of("bag-info.txt"), open_file(folder_ / "bag-info.txt"), problems_, limits_);
        LineInput lines(input);
        std::string_view line;
        while (lines.next(line)) {
            const std::size_t colon = line.find(':');
            if (colon == std::string_view::npos || fold(trim(line.substr(0, colon))) != "payload-oxum") continue;
            const std::string_view said = trim(line.substr(colon + 1));
            std::uint64_t bytes = 0;
            for (const auto& [path, size] : payload_) bytes += size;
            const std::string counted = fmt::format("{}.{}", bytes, payload_.size());
            if (said == counted) continue;
            problems_.add({"bag-oxum", Severity::error,
                           place_in_line(input.name(), lines.number(), line, colon + 1, line.size()),
                           fmt::format("the payload is {} (bytes.files), not {}", counted, said), "get the bag again"});
        }
    }

    void confused() {
        std::map<std::string, std::string> seen;
        for (const auto& [path, size] : payload_) {
            const auto [first, is_new] = seen.emplace(confused_name(path), path);
            if (!is_new)
                wrong("bag-alike-names", path,
                      fmt::format("{} differs only in letter case or Unicode normal form", first->second),
                      "rename one before the bag goes to another system", Severity::warning);
        }
    }

    fs::path folder_;
    std::string name_;
    TextLimits limits_;
    Problems& problems_;
    std::map<std::string, std::uint64_t> payload_;  // path to bytes
    std::map<std::string, std::uint64_t> tags_;
};

}  // namespace

bool is_bag(const fs::path& folder) {
    std::error_code none;
    return fs::is_regular_file(folder / "bagit.txt", none);
}

std::vector<std::string> check_bag(const fs::path& folder, const std::string& name, const TextLimits& limits,
                                   Problems& problems) {
    return BagCheck(folder, name, limits, problems).run();
}

}  // namespace saggar
