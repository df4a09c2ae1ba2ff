#include "importers/mention.h"

#include <fmt/format.h>

#include "importers/words.h"
#include "kg/model/key.h"

namespace saggar {
namespace {

constexpr std::string_view mention_relation = "documents";
constexpr std::size_t longest_key = 300;

}  // namespace

void MentionWriter::put(const std::string& source, std::string_view key, std::string_view quote, std::string_view at,
                        const Origin& origin) {
    const std::string_view kind = split_key(key)->kind;
    if (!context_.vocabulary.find_kind(kind)) {
        problems_.add({"kind-unknown", Severity::error, origin.place_of(""),
                       fmt::format("unknown kind \"{}\" in \"{}\"{}", kind, key,
                                   Vocabulary::suggestion(context_.vocabulary.nearest_kind(kind))),
                       fmt::format("use a kind of the vocabulary \"{}\"", context_.vocabulary.name())});
        return;
    }
    if (source.empty()) {
        problems_.add({"mention-without-source", Severity::warning, origin.place_of(""),
                       fmt::format("\"{}\" is mentioned where no source is named", key),
                       "name the source in a heading: # Title {#source:key}"});
        return;
    }
    const Relation* const relation = context_.vocabulary.find_relation(mention_relation);
    const auto source_parts = split_key(source);
    if (!relation || !source_parts || key == source) return;
    if (!relation->takes_object(kind) || !relation->takes_subject(source_parts->kind)) return;
    Claim claim;
    claim.subject = source;
    claim.relation = relation->name;
    claim.object = {Value::Type::entity, std::string(key), ""};
    Evidence evidence;
    evidence.claim = id_of(claim);
    evidence.source = source;
    evidence.at = at;
    evidence.quote = quote;
    evidence.recorded_by = context_.recorded_by;
    sink_.put(std::move(claim), origin);
    sink_.put(std::move(evidence), origin);
}

std::vector<TextLink> links_in_text(std::string_view text) {
    std::vector<TextLink> links;
    std::size_t open = std::string_view::npos;
    for (std::size_t at = 0; at < text.size(); ++at) {
        if (text[at] == '[') open = at;
        if (text[at] != ']' || open == std::string_view::npos) continue;
        if (at + 1 < text.size() && text[at + 1] == '(') {
            const std::string_view rest = text.substr(at + 2, longest_key + 1);
            const std::size_t close = rest.find_first_of(") \n");
            if (close != std::string_view::npos && rest[close] == ')' && is_key(rest.substr(0, close))) {
                links.push_back({text.substr(open + 1, at - open - 1), rest.substr(0, close), open, at + close + 3});
                at += close + 2;
            }
        }
        open = std::string_view::npos;
    }
    return links;
}

std::string without_links(std::string_view text, const std::vector<TextLink>& links) {
    std::string out;
    std::size_t from = 0;
    for (const TextLink& link : links) {
        out += text.substr(from, link.begin - from);
        out += link.words;
        from = link.end;
    }
    out += text.substr(from);
    return out;
}

}  // namespace saggar
