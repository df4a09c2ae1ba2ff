#include <utility>

#include "viz/dossier/dossier.h"
#include "viz/paint/paint.h"

namespace saggar::viz {

namespace {

constexpr double kTextResolution = 200;  // dots to the inch of the pictures in the word-processor version

}  // namespace

std::map<std::string, std::string> dossier_files(const Dossier& dossier, std::string sources_json) {
    std::map<std::string, std::string> files;
    files["index.html"] = dossier_page(dossier);
    files["dossier.md"] = dossier_text(dossier);
    files["sources.json"] = std::move(sources_json);
    for (const auto& picture : dossier.pictures) {
        files["pictures/" + picture.name + ".svg"] = picture.svg;
        files["pictures/" + picture.name + ".png"] = svg_to_png(picture.svg, kTextResolution);
        if (!picture.dot.empty()) files["pictures/" + picture.name + ".dot"] = picture.dot;
    }
    return files;
}

}  // namespace saggar::viz
