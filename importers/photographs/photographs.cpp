#include "importers/photographs/photographs.h"

#include <fmt/format.h>

#include <algorithm>
#include <fstream>
#include <map>
#include <system_error>

#include "importers/mention.h"
#include "importers/photographs/caption.h"
#include "importers/photographs/exif_date.h"
#include "importers/photographs/tiff_extract.h"
#include "importers/reader.h"
#include "importers/thing_rows.h"
#include "importers/words.h"
#include "kg/model/fault.h"
#include "kg/model/key.h"
#include "kg/model/sha512.h"
#include "kg/store/media.h"

namespace saggar {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t most_photographs = 200'000;
constexpr int most_depth = 16;
constexpr std::uint64_t most_picture_bytes = std::uint64_t{2} << 30;
constexpr std::size_t most_head_bytes = 16u << 20;
constexpr std::uint64_t most_caption_bytes = 1u << 20;

bool has_ending(const fs::path& path, std::initializer_list<std::string_view> endings) {
    const std::string ending = fold(path.extension().string());
    return std::find(endings.begin(), endings.end(), ending) != endings.end();
}

bool is_picture_name(const fs::path& path) {
    return has_ending(path, {".jpg", ".jpeg", ".png", ".gif", ".webp", ".tif", ".tiff"});
}

std::string head_of(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    if (!in) throw UsageFault("cannot read " + file.string(), "check the name and the permissions");
    std::string head(most_head_bytes, '\0');
    in.read(head.data(), static_cast<std::streamsize>(head.size()));
    head.resize(static_cast<std::size_t>(in.gcount()));
    const bool is_tiff = head.compare(0, 4, std::string_view("II*\0", 4)) == 0 || head.compare(0, 4, std::string_view("MM\0*", 4)) == 0;
    if (!is_tiff) return head;
    // What is wanted of it may lie anywhere in the file.
    return tiff_extract([&](std::uint64_t offset, std::size_t count) {
        std::string bytes(count, '\0');
        in.clear();
        in.seekg(static_cast<std::streamoff>(offset));
        in.read(bytes.data(), static_cast<std::streamsize>(count));
        bytes.resize(static_cast<std::size_t>(std::max<std::streamsize>(0, in.gcount())));
        return bytes;
    });
}

class FolderReader {
public:
    FolderReader(fs::path folder, std::string name, const ReadOptions& options, const ReadContext& context, Sink& sink,
                 Problems& problems)
        : folder_(std::move(folder)),
          name_(std::move(name)),
          options_(options),
          sink_(sink),
          problems_(problems),
          mentions_(context, sink, problems) {}

    void read() {
        if (!gather()) return;
        if (pictures_.empty()) {
            return wrong("photographs-none", Severity::error, fs::path(), "the folder holds no photographs",
                         "name a folder with JPEG, PNG, GIF, WebP or TIFF files, or a bag");
        }
        if (!options_.source.empty() && pictures_.size() > 1) {
            return wrong("photographs-one-source", Severity::error, fs::path(),
                         fmt::format("{} photographs cannot all be {}", pictures_.size(), options_.source),
                         "name each in a side file: source: KEY");
        }
        for (const fs::path& picture : pictures_) {
            read_picture(picture);
            captions_.erase(fs::path(picture).replace_extension());
        }
        for (const auto& [stem, caption] : captions_)
            wrong("caption-without-picture", Severity::warning, caption, "there is no photograph of this name",
                  "give it the name of its photograph");
    }

private:
    void wrong(std::string id, Severity severity, const fs::path& file, std::string message, std::string next) {
        problems_.add(
            {std::move(id), severity, Place{name_of(file), 0, 0, "", 0}, std::move(message), std::move(next)});
    }

    // What problems call a file of the folder.
    std::string name_of(const fs::path& file) const {
        return file.empty() ? name_ : (fs::path(name_) / file).generic_string();
    }

    // Names relative to the folder, in order.
    bool gather() {
        std::error_code error;
        for (fs::recursive_directory_iterator item(folder_, error), end; !error && item != end; item.increment(error)) {
            const fs::path file = item->path().lexically_relative(folder_);
            const std::string own_name = file.filename().string();
            if (item->is_symlink()) {
                wrong("photographs-link", Severity::warning, file, "symbolic links are not followed",
                      "put the file itself there");
                continue;
            }
            if (own_name.front() == '.') {
                if (item->is_directory()) item.disable_recursion_pending();
                continue;
            }
            if (item.depth() >= most_depth) {
                wrong("photographs-deep", Severity::error, file,
                      fmt::format("folders lie more than {} deep", most_depth), "load the inner folder by itself");
                return false;
            }
            if (!item->is_regular_file()) continue;
            if (!is_valid_utf8(own_name)) {
                wrong("photographs-name", Severity::error, file.parent_path(),
                      "a file here has a name that is not UTF-8", "give it another name");
            } else if (is_picture_name(file)) {
                pictures_.push_back(file);
            } else if (has_ending(file, {".txt"})) {
                captions_.emplace(fs::path(file).replace_extension(), file);
            } else {
                wrong("photographs-other", Severity::warning, file, "this is no photograph and is passed over",
                      "load it by itself, or leave it");
            }
            if (pictures_.size() + captions_.size() > most_photographs) {
                wrong("photographs-many", Severity::error, fs::path(),
                      fmt::format("the folder holds more than {} files", most_photographs), "load its parts one by one");
                return false;
            }
        }
        if (error) throw UsageFault("cannot read " + folder_.string(), "check the name and the permissions");
        std::sort(pictures_.begin(), pictures_.end());
        return true;
    }

    void read_picture(const fs::path& file) {
        const fs::path path = folder_ / file;
        const std::uint64_t bytes = fs::file_size(path);
        if (bytes > most_picture_bytes) {
            return wrong("photograph-large", Severity::error, file,
                         fmt::format("the photograph has more than {} bytes", most_picture_bytes),
                         "make it smaller, or leave it out");
        }
        const std::string start = head_of(path);
        const auto head = read_picture_head(start);
        if (!head) {
            return wrong("photograph-damaged", Severity::error, file,
                         "the file is no JPEG, PNG, GIF, WebP or TIFF picture with a size",
                         "open and save it again, or take it out of the folder");
        }
        Caption caption;
        const auto side = captions_.find(fs::path(file).replace_extension());
        if (side != captions_.end()) {
            TextLimits limits = options_.limits;
            limits.file_bytes = std::min(limits.file_bytes, most_caption_bytes);
            TextInput input(name_of(side->second), open_file(folder_ / side->second), problems_, limits);
            caption = read_caption(input, &*head);
        } else {
            caption.places.set_whole(Place{name_of(file), 0, 0, "", 0});
        }
        put(file, *head, bytes, std::move(caption));
    }

    void put(const fs::path& file, const PictureHead& head, std::uint64_t bytes, Caption caption) {
        Source& source = caption.source;
        if (source.key.empty()) source.key = options_.source;
        if (source.key.empty()) source.key = "source:" + slugify(fs::path(file).replace_extension().generic_string());
        if (!is_key(source.key)) {
            return wrong("key-invalid", Severity::error, file, "the name of the file gives no key",
                         "name the photograph in a side file: source: KEY");
        }
        const auto [same, is_new] = keys_.emplace(source.key, file);
        if (!is_new) {
            return wrong("photograph-same-key", Severity::error, file,
                         fmt::format("{} is {} too", same->second.generic_string(), source.key),
                         "name one of them in a side file: source: KEY");
        }
        const std::string hash = sha512_of_file(folder_ / file, Sha512::Kind::cut_to_256);
        const auto [twin, only] = hashes_.emplace(hash, file);
        if (!only) {
            wrong("photograph-twice", Severity::warning, file,
                  fmt::format("this is the same picture as {}", twin->second.generic_string()), "keep one of them");
        }
        std::string whole;
        for (const CaptionLine& line : caption.lines) {
            if (!line.at.empty()) continue;
            whole += (whole.empty() ? "" : "\n") + without_links(line.text, links_in_text(line.text));
        }
        if (source.type.empty()) source.type = "photograph";
        if (source.title.empty())
            source.title = whole.empty() ? file.stem().string() : whole.substr(0, whole.find('\n'));
        source.more.emplace_back(checksum_field, std::string(checksum_start) + hash);
        source.more.emplace_back("bytes", std::to_string(bytes));
        source.more.emplace_back("dimensions", fmt::format("{} x {}", head.width, head.height));
        source.more.emplace_back("file", file.generic_string());
        source.more.emplace_back("medium", head.medium);
        if (!whole.empty() && whole != source.title) source.more.emplace_back("abstract", whole);
        take_date(file, head, source);
        settle_more(source);
        const std::string key = source.key;
        sink_.put(std::move(source), caption.places);
        sink_.picture({folder_ / file, hash}, caption.places);
        for (const CaptionLine& line : caption.lines) {
            const auto links = links_in_text(line.text);
            for (const TextLink& link : links)
                mentions_.put(key, link.key, without_links(line.text, links), line.at, PlainOrigin(line.place));
        }
    }

    void take_date(const fs::path& file, const PictureHead& head, Source& source) {
        const ExifDate date = exif_capture_date(head.exif);
        if (!date.text.empty() && date.edtf.empty()) {
            wrong("exif-date", Severity::warning, file,
                  fmt::format("its EXIF date of capture, \"{}\", is no date", date.text),
                  "give the date in a side file: issued: DATE");
        }
        if (date.edtf.empty()) return;
        source.more.emplace_back("captured", date.edtf);
        if (source.issued.empty()) source.issued = date.edtf.substr(0, date.edtf.find('T'));
    }

    fs::path folder_;
    std::string name_;
    const ReadOptions& options_;
    Sink& sink_;
    Problems& problems_;
    MentionWriter mentions_;
    std::vector<fs::path> pictures_;
    std::map<fs::path, fs::path> captions_;  // by name without ending
    std::map<std::string, fs::path> keys_;
    std::map<std::string, fs::path> hashes_;
};

}  // namespace

void read_photographs(const fs::path& folder, const std::string& name, const ReadOptions& options,
                      const ReadContext& context, Sink& sink, Problems& problems) {
    FolderReader(folder, name, options, context, sink, problems).read();
}

}  // namespace saggar
