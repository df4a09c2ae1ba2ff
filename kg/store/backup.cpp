#include "kg/store/backup.h"

#include <fmt/format.h>
#include <rocksdb/utilities/checkpoint.h>
#include <sodium.h>

#include <algorithm>
#include <cstdio>
#include <fstream>
#include <string>
#include <vector>

#include "kg/model/fault.h"
#include "kg/store/database.h"

namespace saggar {
namespace {

namespace fs = std::filesystem;

std::string digest_of(const fs::path& file) {
    std::FILE* in = std::fopen(file.c_str(), "rb");
    if (!in) throw StoreFault("cannot read " + file.string(), "see that the backup is whole and readable");
    crypto_generichash_state state;
    crypto_generichash_init(&state, nullptr, 0, 32);
    std::vector<unsigned char> buffer(1 << 20);
    while (const std::size_t got = std::fread(buffer.data(), 1, buffer.size(), in))
        crypto_generichash_update(&state, buffer.data(), got);
    std::fclose(in);
    unsigned char hash[32];
    crypto_generichash_final(&state, hash, sizeof hash);
    std::string out;
    for (const unsigned char byte : hash) out += fmt::format("{:02x}", byte);
    return out;
}

void must_be_empty(const fs::path& target) {
    if (fs::exists(target) && !fs::is_empty(target))
        throw UsageFault(target.string() + " is not empty", "name a folder that does not exist yet");
}

std::vector<fs::path> files_below(const fs::path& folder) {
    std::vector<fs::path> files;
    for (const auto& item : fs::recursive_directory_iterator(folder))
        if (item.is_regular_file()) files.push_back(fs::relative(item.path(), folder));
    std::sort(files.begin(), files.end());
    return files;
}

// A path of a manifest must stay below the folder.
bool stays_inside(const fs::path& path) {
    if (path.empty() || path.is_absolute()) return false;
    for (const auto& part : path)
        if (part == "..") return false;
    return true;
}

}  // namespace

BackupReport backup(const Store& store, const fs::path& target) {
    must_be_empty(target);
    fs::create_directories(target);
    rocksdb::Checkpoint* raw = nullptr;
    require(rocksdb::Checkpoint::Create(store.database()->db.get(), &raw), "begin the backup");
    const std::unique_ptr<rocksdb::Checkpoint> checkpoint(raw);
    require(checkpoint->CreateCheckpoint((target / "db").string()), "copy the graph");
    if (fs::exists(store.folder() / "media"))
        fs::copy(store.folder() / "media", target / "media", fs::copy_options::recursive);
    BackupReport report;
    report.entry = store.last_entry();
    std::string manifest;
    for (const fs::path& file : files_below(target)) {
        manifest += digest_of(target / file) + "  " + file.generic_string() + "\n";
        report.bytes += fs::file_size(target / file);
        ++report.files;
    }
    std::ofstream out(target / "manifest.txt", std::ios::binary);
    out << manifest;
    out.close();
    if (!out) throw StoreFault("cannot write the manifest of the backup", "free some space and do it again");
    return report;
}

BackupReport restore(const fs::path& from, const fs::path& target) {
    must_be_empty(target);
    std::ifstream manifest(from / "manifest.txt", std::ios::binary);
    if (!manifest)
        throw StoreFault(from.string() + " holds no finished backup (its manifest.txt is missing)",
                         "name the folder that `saggar backup` made");
    BackupReport report;
    std::vector<fs::path> files;
    for (std::string line; std::getline(manifest, line);) {
        const fs::path file = line.size() > 66 ? fs::path(line.substr(66)) : fs::path();
        if (!stays_inside(file)) throw StoreFault("the manifest of the backup is damaged", "use another backup");
        if (digest_of(from / file) != line.substr(0, 64))
            throw StoreFault("the backup is damaged: " + file.string() + " has changed", "use another backup");
        files.push_back(file);
    }
    try {
        for (const fs::path& file : files) {
            fs::create_directories((target / file).parent_path());
            fs::copy_file(from / file, target / file);
            report.bytes += fs::file_size(target / file);
            ++report.files;
        }
        report.entry = Store::open(target, Access::read).last_entry();
    } catch (...) {
        std::error_code ignored;
        fs::remove_all(target, ignored);
        throw;
    }
    return report;
}

}  // namespace saggar
