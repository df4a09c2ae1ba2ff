#include "importers/notes.h"

#include <fmt/format.h>

#include "importers/markdown.h"
#include "importers/mention.h"
#include "importers/thing_rows.h"
#include "importers/words.h"
#include "kg/model/key.h"

namespace saggar {
namespace {

// What a heading names: a title and the key of a source, if it gives one.
struct Heading {
    std::string title;
    std::string key;
};

class NotesReader {
public:
    NotesReader(TextInput& input, std::string_view text, const ReadContext& context, Sink& sink,
                std::string default_source)
        : problems_(input.problems()),
          sink_(sink),
          places_(input.name(), text),
          default_source_(std::move(default_source)),
          claims_(context, sink, input.problems(), default_source_),
          mentions_(context, sink, input.problems()) {}

    void read(cmark_node* document) {
        for (cmark_node* block = cmark_node_first_child(document); block; block = cmark_node_next(block)) {
            const std::string_view type = markdown_type(block);
            if (type == "heading") {
                heading(block);
                continue;
            }
            if (type == "list" && described_ && describes_source(block)) {
                source_list(block);
            } else if (type == "table" && holds_claims(block)) {
                claims_table(block);
            } else {
                mentions(block);
            }
            described_ = nullptr;
        }
    }

private:
    void wrong(Place place, std::string id, std::string message, std::string next) {
        problems_.add({std::move(id), Severity::error, std::move(place), std::move(message), std::move(next)});
    }

    void heading(cmark_node* node) {
        const int level = cmark_node_get_heading_level(node);
        Heading named = read_heading(node);
        described_ = nullptr;
        if (!named.key.empty()) {
            if (!is_key(named.key)) {
                wrong(places_.place_of_words(node, named.key), "key-invalid",
                      fmt::format("\"{}\" is not a key", named.key),
                      fmt::format("write kind:name, for example {{#source:{}}}", slugify(named.title)));
                named.key.clear();
            }
            set_source(named.key, level);
            title_ = named.title;
            described_ = node;
        } else if (level <= source_level_) {
            set_source(default_source_, 0);
        }
        if (named.key.empty()) mentions(node);
    }

    void set_source(std::string key, int level) {
        source_ = std::move(key);
        source_level_ = level;
        claims_.set_default_source(source_);
    }

    static Heading read_heading(cmark_node* node) {
        Heading heading;
        heading.title = std::string(trim(markdown_words(node)));
        const std::size_t brace = heading.title.rfind("{#");
        if (brace != std::string::npos && heading.title.back() == '}') {
            heading.key = heading.title.substr(brace + 2, heading.title.size() - brace - 3);
            heading.title = std::string(trim(std::string_view(heading.title).substr(0, brace)));
            return heading;
        }
        const auto links = markdown_below(node, "link");
        if (links.size() == 1 && trim(markdown_words(links.front())) == heading.title &&
            is_key(link_target(links.front()))) {
            heading.key = std::string(link_target(links.front()));
        }
        return heading;
    }

    // The first item reads `column: value` with a column of the sources table.
    static bool describes_source(cmark_node* list) {
        const std::string words = markdown_words(cmark_node_first_child(list));
        const std::size_t colon = words.find(':');
        return colon != std::string::npos && is_source_column(fold(trim(std::string_view(words).substr(0, colon))));
    }

    void source_list(cmark_node* list) {
        Source source;
        source.key = source_;
        source.title = title_;
        bool good = !source_.empty();
        FieldPlaces places;
        places.set_whole(places_.place(described_));
        for (cmark_node* item = cmark_node_first_child(list); item; item = cmark_node_next(item)) {
            const PlainOrigin origin(places_.place(item));
            const std::string words = markdown_words(item);
            const std::size_t colon = std::min(words.find(':'), words.size());
            const std::string column = fold(trim(std::string_view(words).substr(0, colon)));
            places.set(column, places_.place(item));
            const std::string_view value = colon < words.size() ? std::string_view(words).substr(colon + 1) : "";
            if (column == "private") {
                const auto yes = read_yes(value, "private", origin, problems_);
                good = good && yes;
                source.is_private = yes.value_or(false);
            } else if (!is_source_column(column)) {
                good = false;
                wrong(places_.place(item), "notes-unknown-field",
                      fmt::format("\"{}\" is not a column of sources", trim(std::string_view(words).substr(0, colon))),
                      fmt::format("write column: value, with one of: {}", fmt::join(SourceRows::column_names(), ", ")));
            } else {
                good = set_source_field(source, column, value, origin, problems_) && good;
            }
        }
        if (good) sink_.put(std::move(source), places);
    }

    bool holds_claims(cmark_node* table) const {
        const MarkdownRow header(cmark_node_first_child(table), places_);
        int found = 0;
        for (std::size_t i = 0; i < header.size(); ++i) {
            const std::string name = fold(trim(header.text(i)));
            found += name == "subject" || name == "relation" || name == "object";
        }
        return found == 3;
    }

    void claims_table(cmark_node* table) {
        cmark_node* const head = cmark_node_first_child(table);
        if (!claims_.header(MarkdownRow(head, places_))) return;
        for (cmark_node* row = cmark_node_next(head); row; row = cmark_node_next(row))
            claims_.row(MarkdownRow(row, places_));
    }

    // The smallest block round a link whose words make a quote.
    static cmark_node* quoted_block(cmark_node* link) {
        for (cmark_node* node = cmark_node_parent(link); node; node = cmark_node_parent(node)) {
            const std::string_view type = markdown_type(node);
            if (type == "paragraph" || type == "heading" || type == "table_cell") return node;
        }
        return link;
    }

    void mentions(cmark_node* block) {
        for (cmark_node* link : markdown_below(block, "link")) {
            if (!is_key(link_target(link))) continue;
            mentions_.put(source_, link_target(link), markdown_words(quoted_block(link)), "",
                          PlainOrigin(places_.place(link)));
        }
    }

    Problems& problems_;
    Sink& sink_;
    MarkdownPlaces places_;
    std::string default_source_;
    ClaimRows claims_;
    MentionWriter mentions_;
    std::string source_ = default_source_;
    int source_level_ = 0;
    std::string title_;
    cmark_node* described_ = nullptr;  // the heading just read, where a describing list may follow
};

constexpr std::size_t longest_notes = 64u << 20;

}  // namespace

void read_notes(TextInput& input, const ReadContext& context, Sink& sink, std::string default_source) {
    const std::string text = input.rest();
    if (text.size() > longest_notes) {
        input.problems().add({"notes-too-long", Severity::error, Place{input.name(), 0, 0, "", 0},
                              "notes longer than 64 MiB are not read", "split the file"});
        return;
    }
    const MarkdownDocument document = parse_markdown(text);
    NotesReader(input, text, context, sink, std::move(default_source)).read(document.get());
}

}  // namespace saggar
