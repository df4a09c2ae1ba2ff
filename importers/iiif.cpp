#include "importers/iiif.h"

#include <fmt/format.h>

#include "importers/json_tree_origin.h"
#include "importers/mention.h"
#include "importers/thing_rows.h"
#include "kg/model/key.h"

namespace saggar {
namespace {

constexpr std::string_view presentation_3 = "http://iiif.io/api/presentation/3/context.json";

class ManifestReader {
public:
    ManifestReader(const TextLines& lines, const JsonTree& tree, const ReadContext& context, Sink& sink,
                   Problems& problems)
        : lines_(lines),
          tree_(tree),
          context_(context),
          sink_(sink),
          problems_(problems),
          mentions_(context, sink, problems) {}

    void read(const std::string& source_key) {
        const JsonNode& root = tree_.root();
        if (!has_context(root) || text_of(root, "type") != "Manifest") {
            return wrong(root, "iiif-no-manifest", "this is no manifest of IIIF Presentation 3",
                         fmt::format("a manifest has \"@context\": \"{}\" and \"type\": \"Manifest\"", presentation_3));
        }
        const JsonNode* label = tree_.member(root, "label");
        if (!label) return wrong(root, "iiif-no-label", "the manifest has no label", "give it one");
        if (!label->is(JsonNode::Type::object))
            return wrong(*label, "iiif-label", "a label is texts by language", "write it as {\"en\": [\"...\"]}");
        Source source;
        source.title = in_language(*label);
        source.key = source_key.empty() ? "source:" + slugify(source.title) : source_key;
        if (!is_key(source.key))
            return wrong(*label, "key-invalid", fmt::format("\"{}\" gives no key", source.title),
                         "name the source with --source");
        source.url = text_of(root, "id");
        source.rights = text_of(root, "rights");
        if (const JsonNode* summary = tree_.member(root, "summary"))
            source.more.emplace_back("abstract", in_language(*summary));
        each(root, "metadata", [&](const JsonNode& pair) {
            const JsonNode* name = tree_.member(pair, "label");
            const JsonNode* value = tree_.member(pair, "value");
            const std::string field = name ? slugify(in_language(*name)) : std::string();
            if (!field.empty() && value) source.more.emplace_back(field, in_language(*value));
        });
        std::size_t number = 0;
        each(root, "items", [&](const JsonNode& canvas) { read_canvas(canvas, ++number, source); });
        const std::string key = source.key;
        settle_more(source);
        sink_.put(std::move(source), JsonTreeOrigin(lines_, tree_, root));
        number = 0;
        each(root, "items", [&](const JsonNode& canvas) { read_annotations(canvas, ++number, key); });
    }

private:
    void wrong(const JsonNode& node, std::string id, std::string message, std::string next) {
        problems_.add({std::move(id), Severity::error, lines_.place(node.begin, std::min(node.end, node.begin + 80)),
                       std::move(message), std::move(next)});
    }

    std::string text_of(const JsonNode& object, std::string_view name) const {
        const JsonNode* node = tree_.member(object, name);
        return node && (node->is(JsonNode::Type::string) || node->is(JsonNode::Type::number)) ? std::string(node->text)
                                                                                              : std::string();
    }

    template <class Visit>
    void each(const JsonNode& object, std::string_view name, Visit visit) const {
        const JsonNode* list = tree_.member(object, name);
        for (const JsonNode* one = list && list->is(JsonNode::Type::array) ? tree_.first(*list) : nullptr; one;
             one = tree_.next(*one))
            visit(*one);
    }

    bool has_context(const JsonNode& root) const {
        const JsonNode* context = tree_.member(root, "@context");
        if (!context) return false;
        if (context->is(JsonNode::Type::string)) return context->text == presentation_3;
        for (const JsonNode* one = tree_.first(*context); one; one = tree_.next(*one)) {
            if (one->text == presentation_3) return true;
        }
        return false;
    }

    // A language map {"en": ["words"]}: its texts in one language, joined.
    std::string in_language(const JsonNode& map) const {
        const JsonNode* texts = tree_.member(map, context_.vocabulary.language());
        if (!texts) texts = tree_.member(map, "none");
        if (!texts) texts = tree_.first(map);
        std::string out;
        for (const JsonNode* one = texts ? tree_.first(*texts) : nullptr; one; one = tree_.next(*one)) {
            if (!out.empty()) out += "; ";
            out += one->text;
        }
        return out;
    }

    void read_canvas(const JsonNode& canvas, std::size_t number, Source& source) {
        if (text_of(canvas, "type") != "Canvas") {
            return wrong(canvas, "iiif-no-canvas", "an item of a manifest is a canvas", "give it \"type\": \"Canvas\"");
        }
        const JsonNode* label = tree_.member(canvas, "label");
        std::string text = label ? in_language(*label) + ", " : std::string();
        text += text_of(canvas, "id");
        const std::string width = text_of(canvas, "width");
        const std::string height = text_of(canvas, "height");
        if (!width.empty() && !height.empty()) text += fmt::format(", {} x {}", width, height);
        source.more.emplace_back(fmt::format("canvas-{}", number), std::move(text));
    }

    void read_annotations(const JsonNode& canvas, std::size_t number, const std::string& key) {
        each(canvas, "annotations", [&](const JsonNode& page) {
            each(page, "items", [&](const JsonNode& annotation) {
                const JsonNode* body = tree_.member(annotation, "body");
                if (!body || text_of(annotation, "motivation") == "painting") return;
                const std::string words =
                    body->is(JsonNode::Type::string) ? std::string(body->text) : text_of(*body, "value");
                const std::string target = text_of(annotation, "target");
                const std::size_t region = target.find("#xywh=");
                std::string at = fmt::format("canvas {}", number);
                if (region != std::string::npos) at += ", " + target.substr(region + 1);
                const auto links = links_in_text(words);
                const JsonTreeOrigin origin(lines_, tree_, annotation);
                for (const TextLink& link : links)
                    mentions_.put(key, link.key, without_links(words, links), at, origin);
            });
        });
    }

    const TextLines& lines_;
    const JsonTree& tree_;
    const ReadContext& context_;
    Sink& sink_;
    Problems& problems_;
    MentionWriter mentions_;
};

}  // namespace

void read_iiif(TextInput& input, const ReadContext& context, Sink& sink, const std::string& source_key) {
    const std::string text = input.rest();
    const TextLines lines(input.name(), text);
    JsonTree tree;
    if (tree.parse(lines, input.problems()))
        ManifestReader(lines, tree, context, sink, input.problems()).read(source_key);
}

}  // namespace saggar
