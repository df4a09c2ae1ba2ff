#include "app/bag_index.h"

#include <fmt/format.h>

#include <vector>

#include "kg/model/key.h"
#include "kg/model/vocabulary.h"
#include "queries/privacy.h"
#include "viz/xml.h"

namespace saggar::app {
namespace {

std::string source_line(const Source& source, const std::map<std::string, std::string>& pictures) {
    std::string line = fmt::format("<li id=\"{}\"><code>{}</code> {}", viz::xml_escaped(source.key), viz::xml_escaped(source.key),
                                   viz::xml_escaped(source.title));
    for (const std::string* const field :
         {&source.type, &source.issued, &source.author, &source.archive, &source.collection})
        if (!field->empty()) line += ", " + viz::xml_escaped(*field);
    if (!source.box.empty()) line += ", box " + viz::xml_escaped(source.box);
    if (!source.folder.empty()) line += ", folder " + viz::xml_escaped(source.folder);
    const auto picture = pictures.find(source.key);
    if (picture != pictures.end())
        line += fmt::format("<br><a href=\"{0}\"><img src=\"{0}\" alt=\"{1}\" width=\"320\"></a>",
                            viz::xml_escaped(picture->second), viz::xml_escaped(source.title));
    return line + "</li>\n";
}

}  // namespace

void write_bag_index(const Snapshot& graph, const std::map<std::string, std::string>& pictures, bool with_private,
                     std::ostream& out) {
    std::map<std::string, std::map<std::string, std::string>> things;  // kind, key, label
    std::map<std::string, std::string> sources;                        // key, line
    Privacy privacy(graph, with_private);
    graph.each_source([&](EntityId id, const Source& one) {
        if (privacy.may_show(id)) sources[one.key] = source_line(one, pictures);
    });
    graph.each_entity([&](EntityId id, const Entity& one) {
        if (sources.count(one.key) || !privacy.may_show(id)) return;
        things[std::string(split_key(one.key)->kind)][one.key] = one.label.text;
    });
    out << "<!DOCTYPE html>\n<html lang=\"" << viz::xml_escaped(graph.vocabulary().language())
        << "\">\n<head><meta charset=\"utf-8\"><title>What this bag holds</title>\n"
           "<style>body{font-family:sans-serif;max-width:60em;margin:2em auto}img{margin:.5em "
           "0}</style></head>\n<body>\n"
           "<h1>What this bag holds</h1>\n<p>The graph itself, with every claim, its evidence and its history, is "
           "<a href=\"graph.jsonl\">graph.jsonl</a>, one record a line.</p>\n";
    for (const auto& [kind, list] : things) {
        out << fmt::format("<h2>{} ({})</h2>\n<ul>\n", viz::xml_escaped(kind), list.size());
        for (const auto& [key, label] : list)
            out << fmt::format("<li id=\"{0}\"><code>{0}</code> {1}</li>\n", viz::xml_escaped(key), viz::xml_escaped(label));
        out << "</ul>\n";
    }
    out << "<h2>sources</h2>\n<ul>\n";
    for (const auto& [key, line] : sources) out << line;
    out << "</ul>\n</body>\n</html>\n";
}

}  // namespace saggar::app
