#include "app/bag_export.h"

#include <fmt/format.h>

#include <map>

#include "app/bag_index.h"
#include "app/line_export.h"
#include "app/session.h"
#include "importers/bag/write_bag.h"
#include "kg/model/vocabulary.h"
#include "kg/store/media.h"
#include "queries/privacy.h"

namespace saggar::app {
namespace {

namespace fs = std::filesystem;

std::string ending_of(const Source& source) {
    static const std::map<std::string, std::string> endings = {{"image/jpeg", ".jpg"},
                                                               {"image/png", ".png"},
                                                               {"image/gif", ".gif"},
                                                               {"image/webp", ".webp"},
                                                               {"image/tiff", ".tif"}};
    for (const auto& [name, text] : source.more) {
        const auto found = name == "medium" ? endings.find(text) : endings.end();
        if (found != endings.end()) return found->second;
    }
    return {};
}

}  // namespace

void export_bag(const Call& call, const Snapshot& graph, const fs::path& graph_folder, const fs::path& target) {
    BagContent content;
    std::map<std::string, std::string> pictures;  // by key of the source
    std::map<std::string, std::string> paths;     // by hash
    std::size_t missing = 0;
    Privacy privacy(graph, call.with_private);
    graph.each_source([&](EntityId id, const Source& source) {
        const std::string hash = media_hash(source);
        if (hash.empty() || !privacy.may_show(id)) return;
        if (!fs::is_regular_file(media_path(graph_folder, hash))) {
            ++missing;
            return;
        }
        const std::string& path = paths.emplace(hash, fmt::format("media/{}{}", hash, ending_of(source))).first->second;
        content.copied[path] = media_path(graph_folder, hash);
        pictures[source.key] = path;
    });
    std::size_t left_out = 0;
    content.written["graph.jsonl"] = [&](std::ostream& out) {
        left_out = write_lines(graph, 1, out, call.with_private);
    };
    content.written["index.html"] = [&](std::ostream& out) {
        write_bag_index(graph, pictures, call.with_private, out);
    };
    content.info = {{"Bagging-Date", now().substr(0, 10)},
                    {"External-Description", fmt::format("A graph of {}, entries 1 to {}, with its pictures",
                                                         graph.vocabulary().name(), graph.entry())},
                    {"Bag-Software-Agent", "saggar " SAGGAR_VERSION}};
    const BagReport report = write_bag(target, content);
    *call.err << fmt::format("packed {} files, {} bytes, into {}", report.files, report.bytes, target.string());
    if (missing) *call.err << fmt::format("; {} pictures are missing from the graph (see `saggar check`)", missing);
    if (left_out) *call.err << fmt::format("; {} private records left out (see --with-private)", left_out);
    *call.err << '\n';
}

}  // namespace saggar::app
