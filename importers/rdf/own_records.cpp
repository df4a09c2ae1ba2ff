#include "importers/rdf/own_records.h"

#include <algorithm>
#include <map>

#include "importers/rdf/own_names.h"
#include "importers/rdf/own_node.h"
#include "kg/model/record_json.h"

namespace saggar::rdf {
namespace {

constexpr std::uint64_t after_all = std::uint64_t{1} << 62;  // the entry of records that name none
constexpr int look_ahead = 1000;                             // statements in which our export shows itself

bool own(std::string_view term) {
    return is_iri(term) && term.substr(1, own_space.size()) == own_space;
}

// Problems found in the line of JSON made from a node, told at the node's place.
void retell(const Problems& found, const Spot& spot, const SourceLines& lines, Problems& problems) {
    for (Problem problem : found.list()) {
        problem.place = lines.place(problem.place.line && problem.id == "rdf-two-values"
                                        ? Spot{problem.place.line, problem.place.column}
                                        : spot);
        problems.add(std::move(problem));
    }
}

}  // namespace

OwnRecords::OwnRecords(const std::filesystem::path& folder)
    : nodes_(folder, "own-nodes"), ordered_(folder, "own-records", Grouping::budget) {}

bool OwnRecords::takes(const Quad& quad) { return own(quad.subject); }

bool OwnRecords::takes_alone(const Quad& quad) {
    return own(quad.graph) || (own(quad.subject) && !own_name(quad.subject, "thing"));
}

void OwnRecords::add(const Quad& quad, const Spot& spot) {
    const auto name = own_name_of(quad.subject);
    if (!name) return;
    std::string message;
    pack(message, quad.subject);
    pack(message, quad.predicate);
    pack(message, quad.object);
    pack(message, spot.line);
    pack(message, spot.column);
    nodes_.add(name->node, 0, message);
}

void OwnRecords::order(std::string_view subject, const OwnNode& node, const SourceLines& lines, Problems& problems) {
    const auto name = own_name_of(subject);
    Problems found;
    const auto json = name ? node.json_line(*name, found) : std::nullopt;
    retell(found, node.spot(), lines, problems);
    if (!json) return;
    std::string key;
    if (name->space == "entry") {
        pack_sorted(key, node.entry_number().value_or(0));
        pack_sorted(key, 0);
    } else {
        static constexpr std::string_view kinds[] = {"document", "thing", "citation", "claim", "evidence", "list", "argument", "ruling"};
        const auto kind = static_cast<std::uint64_t>(std::find(std::begin(kinds), std::end(kinds), name->space) - std::begin(kinds));
        pack_sorted(key, node.entry().value_or(after_all));
        pack_sorted(key, node.order() ? *node.order() + 1 : after_all + kind);
    }
    pack_sorted(key, unordered_++);
    std::string value;
    pack(value, node.spot().line);
    pack(value, node.spot().column);
    pack(value, *json);
    ordered_.add(key, value);
}

void OwnRecords::put(const SourceLines& lines, Sink& sink, Problems& problems) {
    OwnNode node;
    std::string subject;  // of the node itself or one of its parts
    nodes_.each([&](std::string_view, bool first, std::uint8_t, std::string_view message) {
        if (first) {
            if (!subject.empty()) order(subject, node, lines, problems);
            node.clear();
        }
        Unpack unpack(message);
        subject.assign(unpack.text());
        const std::string_view predicate = unpack.text();
        const std::string_view object = unpack.text();
        const std::uint32_t line = unpack.number();
        const auto name = own_name_of(subject);
        if (name) node.add(name->part, predicate, object, {line, unpack.number()});
    });
    if (!subject.empty()) order(subject, node, lines, problems);

    RecordJsonReader reader;
    ordered_.merge([&](std::string_view, std::string_view value) {
        Unpack unpack(value);
        const std::uint32_t line = unpack.number();
        const Spot spot{line, unpack.number()};
        const TextLines text("", unpack.text());
        Problems found;
        auto read = reader.read(text, found);
        retell(found, spot, lines, problems);
        if (!read) return;
        const SpotOrigin origin(lines, spot);
        if (auto* entry = std::get_if<EntryHeader>(&*read)) {
            sink.begin_entry(std::move(*entry), origin);
        } else if (auto* document = std::get_if<DocumentLine>(&*read)) {
            sink.document(std::move(*document), origin);
        } else {
            sink.put(std::move(std::get<Record>(*read)), origin);
        }
    });
}

std::optional<std::string> own_document(TextInput& input, Syntax syntax, std::string_view name) {
    struct Done {};
    std::map<std::string, std::string, std::less<>> texts;  // by node, sorted by entry
    int seen = 0;
    bool ours = false;
    Problems untold(0);
    const QuadVisitor visit = [&](const Quad& quad, const Spot&) {
        ours = ours || own(quad.subject);
        if (++seen > look_ahead && !ours) throw Done();
        const auto node = own_name_of(quad.subject);
        if (!node || node->space != "document" || quad.predicate != own_term("term", "text")) return;
        if (node->name.size() <= name.size() || node->name.substr(node->name.size() - name.size()) != name) return;
        texts[std::string(20 - std::min<std::size_t>(20, node->name.size()), '0') + node->name] = literal_of(quad.object).text;
        if (seen <= look_ahead) throw Done();  // as we write it, the earliest stands first
    };
    try {
        read_quads(input, {syntax, ""}, visit, untold);
    } catch (const Done&) {
    }
    if (texts.empty()) return std::nullopt;
    return texts.begin()->second;
}

}  // namespace saggar::rdf
