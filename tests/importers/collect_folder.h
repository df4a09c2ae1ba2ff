// Reads a folder through the checks as `load` does, and keeps its pictures' names.
#pragma once

#include <filesystem>
#include <fstream>
#include <map>

#include "tests/importers/collect.h"

namespace saggar::test {

class CollectedFolder final : public Sink {
public:
    void put(Record record, const Origin& origin) override { records.put(std::move(record), origin); }
    void picture(PictureFile file, const Origin&) override { pictures[file.path.filename().string()] = file.hash; }
    Source source(const std::string& key) const {
        for (const Source& one : records.all<Source>())
            if (one.key == key) return one;
        return {};
    }
    std::string more(const std::string& key, const std::string& field) const {
        for (const auto& [name, text] : source(key).more)
            if (name == field) return text;
        return {};
    }
    Collected records;
    std::map<std::string, std::string> pictures;
};

inline CollectedFolder read_folder(const std::filesystem::path& folder, Problems& problems, ReadOptions options = {}) {
    CollectedFolder collected;
    options.name = "folder";
    const ReadContext context{Vocabulary::standard(), "M. E."};
    CheckedSink checked(collected, Vocabulary::standard(), Profile::standard(), problems,
                        [&](const ContentId& id) { return collected.records.has_claim(id); });
    read_file(folder, options, context, checked, problems);
    return collected;
}

inline void put_file(const std::filesystem::path& path, const std::string& bytes) {
    std::filesystem::create_directories(path.parent_path());
    std::ofstream(path, std::ios::binary) << bytes;
}

inline std::string bytes_of(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    return std::string(std::istreambuf_iterator<char>(in), {});
}

// The ids of the problems, in order, with blanks between.
inline std::string problem_ids(const Problems& problems) {
    std::string ids;
    for (const Problem& problem : problems.list()) ids += (ids.empty() ? "" : " ") + problem.id;
    return ids;
}

}  // namespace saggar::test
