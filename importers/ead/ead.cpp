#include "importers/ead/ead.h"

#include <fmt/format.h>

#include <set>

#include "importers/ead/ead_description.h"
#include "importers/ead/xml_document.h"
#include "importers/thing_rows.h"
#include "importers/words.h"
#include "kg/model/key.h"

namespace saggar {
namespace {

class ElementOrigin final : public Origin {
public:
    ElementOrigin(const XmlDocument& document, pugi::xml_node node) : document_(document), node_(node) {}
    std::uint32_t line() const override { return document_.line(node_); }
    Place place_of(std::string_view) const override { return document_.place(node_); }

private:
    const XmlDocument& document_;
    pugi::xml_node node_;
};

// "c", or "c01" to "c12".
bool is_component(pugi::xml_node node) {
    if (node.type() != pugi::node_element) return false;
    const std::string_view name = local_name(node);
    if (name == "c") return true;
    return name.size() == 3 && name[0] == 'c' && (name[1] == '0' || name[1] == '1') && name[2] >= '0' && name[2] <= '9';
}

bool is_internal(pugi::xml_node node) { return std::string_view(node.attribute("audience").value()) == "internal"; }

class EadReader {
public:
    EadReader(const XmlDocument& document, const ReadContext& context, Sink& sink, Problems& problems)
        : document_(document), context_(context), sink_(sink), problems_(problems) {}

    void read(const std::string& source_key) {
        const pugi::xml_node root = document_.root();
        if (local_name(root) != "ead")
            return wrong(root, "ead-root", fmt::format("the root element is \"{}\", not ead", root.name()),
                         "name a finding aid in EAD3");
        if (child_named(root, "eadheader")) {
            return wrong(child_named(root, "eadheader"), "ead-version",
                         "this is EAD 2002; EAD3 has control in place of eadheader",
                         "ask the archive for the finding aid in EAD3, or convert it with the schema's own conversion");
        }
        const pugi::xml_node top = child_named(root, "archdesc");
        if (!top)
            return wrong(root, "ead-no-description", "the finding aid has no archdesc", "see that the file is whole");
        const pugi::xml_node record = child_named(child_named(root, "control"), "recordid");
        base_ = source_key.empty() ? slugify(text_below(record)) : source_key.substr(source_key.find(':') + 1);
        if (base_.empty())
            return wrong(record ? record : root, "ead-no-record-id", "the finding aid has no recordid that gives a key",
                         "name the source with --source");
        Level level = describe(top, Level{}, source_key.empty() ? "source:" + base_ : source_key);
        level.series.clear();
        put_archive(top, level);
        components(top, level);
    }

private:
    // What a component takes over from those above it.
    struct Level {
        Source inherited;  // archive, place, collection, box, folder, rights, private
        std::string key;
        std::string series;
    };
    struct Open {
        pugi::xml_node next;  // the sibling to look at next
        Level level;
        std::string number;  // "2-1-"
        int count = 0;
    };

    void wrong(pugi::xml_node node, std::string id, std::string message, std::string next,
               Severity severity = Severity::error) {
        problems_.add({std::move(id), severity, document_.place(node), std::move(message), std::move(next)});
    }

    // Every component below `top`, in order, on a stack of our own.
    void components(pugi::xml_node top, const Level& level) {
        std::vector<Open> stack;
        stack.push_back(Open{child_named(top, "dsc").first_child(), level, "", 0});
        // A second dsc is a second list; EAD3 allows several.
        for (pugi::xml_node dsc = child_named(top, "dsc").next_sibling(); dsc; dsc = dsc.next_sibling())
            if (local_name(dsc) == "dsc")
                stack.insert(stack.begin(),
                             Open{dsc.first_child(), level, fmt::format("list-{}-", stack.size() + 1), 0});
        while (!stack.empty()) {
            Open& open = stack.back();
            const pugi::xml_node node = open.next;
            if (!node) {
                stack.pop_back();
                continue;
            }
            open.next = node.next_sibling();
            if (!is_component(node)) continue;
            const std::string number = fmt::format("{}{}", open.number, ++open.count);
            Level inner = describe(node, open.level, component_key(node, number));
            stack.push_back(Open{node.first_child(), std::move(inner), number + "-", 0});
        }
    }

    std::string component_key(pugi::xml_node node, const std::string& number) {
        std::string name = slugify(text_below(child_named(child_named(node, "did"), "unitid")));
        if (name.empty()) name = slugify(node.attribute("id").value());
        std::string key = fmt::format("source:{}-{}", base_, name.empty() ? number : name);
        if (!is_key(key) || keys_.count(key)) key = fmt::format("source:{}-no-{}", base_, number);
        return key;
    }

    Level describe(pugi::xml_node node, const Level& above, const std::string& key) {
        Source source = above.inherited;
        source.key = key;
        source.is_private = above.inherited.is_private || is_internal(node);
        describe_unit(document_, node, source, problems_);
        Level level;
        level.key = key;
        level.inherited.archive = source.archive;
        level.inherited.place = source.place;
        level.inherited.collection = source.collection.empty() ? source.title : source.collection;
        level.inherited.box = source.box;
        level.inherited.folder = source.folder;
        level.inherited.rights = source.rights;
        level.inherited.is_private = source.is_private;
        level.series = above.series + (above.series.empty() || source.title.empty() ? "" : "; ") + source.title;
        if (!above.series.empty()) source.more.emplace_back("series", above.series);
        if (source.title.empty()) {
            wrong(node, "ead-no-title", "a unit has no title and is passed over, though not what lies in it",
                  "give it a unittitle", Severity::warning);
            return level;
        }
        if (!is_key(key)) {
            wrong(node, "key-invalid", fmt::format("\"{}\" is no key", key),
                  "give the finding aid a shorter recordid, or use --source");
            return level;
        }
        keys_.insert(key);
        settle_more(source);
        sink_.put(std::move(source), ElementOrigin(document_, node));
        return level;
    }

    // The archive as a thing, and that it holds the collection.
    void put_archive(pugi::xml_node top, const Level& level) {
        const std::string slug = slugify(level.inherited.archive);
        const Relation* const held = context_.vocabulary.find_relation("held-by");
        if (slug.empty() || !context_.vocabulary.find_kind("archive")) return;
        const pugi::xml_node repository = child_named(child_named(top, "did"), "repository");
        const ElementOrigin origin(document_, repository);
        Entity archive;
        archive.key = "archive:" + slug;
        archive.label.text = level.inherited.archive;
        archive.is_private = level.inherited.is_private;
        if (!is_key(archive.key)) return;
        sink_.put(archive, origin);
        if (!held || !held->takes_subject("source") || !held->takes_object("archive")) return;
        Claim claim;
        claim.subject = level.key;
        claim.relation = held->name;
        claim.object = {Value::Type::entity, archive.key, ""};
        claim.is_private = level.inherited.is_private;
        Evidence evidence;
        evidence.claim = id_of(claim);
        evidence.source = level.key;
        evidence.at = "repository";
        evidence.quote = text_below(repository);
        evidence.recorded_by = context_.recorded_by;
        evidence.is_private = level.inherited.is_private;
        sink_.put(std::move(claim), origin);
        sink_.put(std::move(evidence), origin);
    }

    const XmlDocument& document_;
    const ReadContext& context_;
    Sink& sink_;
    Problems& problems_;
    std::string base_;
    std::set<std::string> keys_;
};

}  // namespace

bool is_ead_start(std::string_view head) {
    return !head.empty() && head.front() == '<' &&
           (head.find("<ead") != std::string_view::npos ||
            head.find("ead3.archivists.org/schema") != std::string_view::npos);
}

void read_ead(TextInput& input, const ReadContext& context, Sink& sink, const std::string& source_key) {
    XmlDocument document;
    if (document.read(input)) EadReader(document, context, sink, input.problems()).read(source_key);
}

}  // namespace saggar
