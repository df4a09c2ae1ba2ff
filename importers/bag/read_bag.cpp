#include "importers/bag/read_bag.h"

#include <fmt/format.h>

#include <algorithm>

#include "importers/bag/bag_check.h"
#include "importers/jsonl.h"
#include "kg/model/sha512.h"

namespace saggar {

namespace fs = std::filesystem;

void read_bag(const fs::path& folder, const std::string& name, const TextLimits& limits, Sink& sink,
              Problems& problems) {
    const std::vector<std::string> payload = check_bag(folder, name, limits, problems);
    if (problems.any_error()) return;
    if (!std::binary_search(payload.begin(), payload.end(), bag_graph_path)) {
        problems.add({"bag-no-graph", Severity::error, Place{name, 0, 0, "", 0},
                      fmt::format("the bag is sound but holds no {}", bag_graph_path),
                      "load the files in its folder data one by one"});
        return;
    }
    for (const std::string& path : payload) {
        if (path.compare(0, bag_media_start.size(), bag_media_start) != 0) continue;
        const std::string hash = fs::path(path).stem().string();
        const Place place{name + "/" + path, 0, 0, "", 0};
        if (sha512_of_file(folder / path, Sha512::Kind::cut_to_256) != hash) {
            problems.add({"bag-picture", Severity::error, place, "the picture is not named after its SHA-512/256",
                          "get the bag again"});
            continue;
        }
        sink.picture({folder / path, hash}, PlainOrigin(place));
    }
    const std::string graph(bag_graph_path);
    TextInput input(name + "/" + graph, open_file(folder / graph), problems, limits);
    read_jsonl(input, sink);
}

}  // namespace saggar
