#include "importers/bag/write_bag.h"

#include <fmt/format.h>

#include <fstream>

#include "importers/bag/bag_manifest.h"
#include "kg/model/fault.h"
#include "kg/model/sha512.h"

namespace saggar {
namespace {

namespace fs = std::filesystem;

// Never follows what stands there: the folder was empty.
void write_file(const fs::path& path, const std::function<void(std::ostream&)>& write) {
    fs::create_directories(path.parent_path());
    std::ofstream out(path, std::ios::binary | std::ios::trunc);
    write(out);
    out.close();
    if (!out)
        throw StoreFault("cannot write " + path.string(),
                         "see that the folder can be written and that the disk is not full");
}

void write_text(const fs::path& path, const std::string& text) {
    write_file(path, [&](std::ostream& out) { out << text; });
}

// One line of a field; what is folded in a text becomes a blank.
std::string info_line(const std::string& name, std::string text) {
    for (char& sign : text)
        if (sign == '\n' || sign == '\r') sign = ' ';
    return fmt::format("{}: {}\n", name, text);
}

std::string manifest_line(const fs::path& target, const std::string& path) {
    return fmt::format("{}  {}\n", sha512_of_file(target / path, Sha512::Kind::whole), encode_bag_path(path));
}

}  // namespace

BagReport write_bag(const fs::path& target, const BagContent& content) {
    if (fs::exists(fs::symlink_status(target)) && (!fs::is_directory(target) || !fs::is_empty(target)))
        throw UsageFault(target.string() + " is not an empty folder", "name a folder that does not exist yet");
    std::map<std::string, std::uint64_t> payload;
    for (const auto& [path, write] : content.written) payload["data/" + path];
    for (const auto& [path, file] : content.copied) payload["data/" + path];
    for (const auto& [path, size] : payload)
        if (const std::string danger = bag_path_danger(path); !danger.empty())
            throw UsageFault(fmt::format("\"{}\" cannot stand in a bag: {}", path, danger), "name the file otherwise");
    std::error_code error;
    fs::create_directories(target / "data", error);
    if (error) throw StoreFault("cannot make " + target.string(), "see that the folder above it can be written");
    for (const auto& [path, write] : content.written) write_file(target / "data" / path, write);
    for (const auto& [path, file] : content.copied) {
        fs::create_directories((target / "data" / path).parent_path());
        fs::copy_file(file, target / "data" / path, error);
        if (error)
            throw StoreFault(fmt::format("cannot copy {} into the bag", file.string()),
                             "see that the file is there and that the disk is not full");
    }
    BagReport report;
    std::string manifest;
    for (const auto& [path, size] : payload) {
        ++report.files;
        report.bytes += fs::file_size(target / path);
        manifest += manifest_line(target, path);
    }
    write_text(target / "manifest-sha512.txt", manifest);
    std::string info;
    for (const auto& [name, text] : content.info) info += info_line(name, text);
    info += info_line("Payload-Oxum", fmt::format("{}.{}", report.bytes, report.files));
    write_text(target / "bag-info.txt", info);
    const std::string declaration = "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n";
    Sha512 hash;
    hash.feed(declaration);
    std::string tags = manifest_line(target, "bag-info.txt");
    tags += fmt::format("{}  bagit.txt\n", hash.finish());
    tags += manifest_line(target, "manifest-sha512.txt");
    write_text(target / "tagmanifest-sha512.txt", tags);
    write_text(target / "bagit.txt", declaration);
    return report;
}

}  // namespace saggar
