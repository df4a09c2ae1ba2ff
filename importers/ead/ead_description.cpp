#include "importers/ead/ead_description.h"

#include <fmt/format.h>

#include "importers/claim_words.h"
#include "importers/words.h"
#include "kg/model/key.h"

namespace saggar {
namespace {

std::string attribute(pugi::xml_node node, const char* name) { return std::string(trim(node.attribute(name).value())); }

// A date as EDTF; empty where the words are none.
std::string date_of(std::string_view words) {
    Problems unread(0);
    const auto date = date_of_words(words, "", "issued", PlainOrigin(Place{}), unread);
    return date && !unread.any_error() ? *date : std::string();
}

// A `datesingle`, `fromdate` or `todate`: its standard form, else its words.
std::string single_date(pugi::xml_node node) {
    const std::string standard = date_of(attribute(node, "standarddate"));
    return standard.empty() ? date_of(text_below(node)) : standard;
}

class UnitReader {
public:
    UnitReader(const XmlDocument& document, Source& source, Problems& problems)
        : document_(document), source_(source), problems_(problems) {}

    void read(pugi::xml_node unit) {
        const std::string level = attribute(unit, "level");
        if (!level.empty()) more("level", level == "otherlevel" ? attribute(unit, "otherlevel") : level);
        for (pugi::xml_node one = child_named(unit, "did").first_child(); one; one = one.next_sibling()) identify(one);
        for (pugi::xml_node note = unit.first_child(); note; note = note.next_sibling()) {
            const std::string_view name = local_name(note);
            if (name == "scopecontent") more("abstract", note_text(note));
            if (name == "accessrestrict") more("access", note_text(note));
            if (name == "userestrict") take(source_.rights, note_text(note));
        }
    }

private:
    void more(std::string name, std::string text) {
        if (!text.empty() && !name.empty()) source_.more.emplace_back(std::move(name), std::move(text));
    }
    static void take(std::string& field, std::string text) {
        if (!text.empty()) field = std::move(text);
    }

    // A note without its heading.
    static std::string note_text(pugi::xml_node note) {
        std::string out;
        for (pugi::xml_node part = note.first_child(); part; part = part.next_sibling()) {
            if (local_name(part) == "head") continue;
            const std::string text =
                part.type() == pugi::node_element ? text_below(part) : std::string(trim(part.value()));
            if (!text.empty()) out += (out.empty() ? "" : "\n") + text;
        }
        return out;
    }

    void identify(pugi::xml_node one) {
        const std::string_view name = local_name(one);
        if (name == "unittitle") take(source_.title, text_below(one));
        if (name == "unitid") more("call-number", text_below(one));
        if (name == "origination") take(source_.author, text_below(one));
        if (name == "abstract") more("abstract", text_below(one));
        if (name == "physdesc" || name == "physdescstructured" || name == "physdescset")
            more("extent", text_below(one));
        if (name == "physloc") more("location", text_below(one));
        if (name == "container") container(one);
        if (name == "repository") repository(one);
        if (name == "unitdate" || name == "unitdatestructured") date(one, name == "unitdate");
    }

    void container(pugi::xml_node one) {
        std::string type = fold(attribute(one, "localtype"));
        const std::string text = text_below(one);
        // EAD3 1.1: @containerid is a number on the thing itself, e.g. a barcode.
        more("container-id", attribute(one, "containerid"));
        if (type == "box" || type == "boxes") {
            take(source_.box, text);
            if (!box_seen_) source_.folder.clear();  // a folder lies in the box of its own unit, not in one above
            box_seen_ = true;
        } else if (type == "folder" || type == "folders") {
            take(source_.folder, text);
            box_seen_ = true;
        } else {
            more(type.empty() ? "container" : slugify(type), text);
        }
    }

    void repository(pugi::xml_node one) {
        std::string name;
        for (pugi::xml_node part = one.first_child(); part; part = part.next_sibling()) {
            if (local_name(part) != "address") {
                const std::string text =
                    part.type() == pugi::node_element ? text_below(part) : std::string(trim(part.value()));
                if (!text.empty()) name += (name.empty() ? "" : ", ") + text;
                continue;
            }
            for (pugi::xml_node line = part.first_child(); line; line = line.next_sibling())
                if (fold(attribute(line, "localtype")) == "city") take(source_.place, text_below(line));
        }
        take(source_.archive, name);
    }

    void date(pugi::xml_node one, bool plain) {
        // EAD3, unitdate: "bulk" dates say where most of the papers lie, not when the unit begins and ends.
        const bool bulk = attribute(one, "unitdatetype") == "bulk";
        if (bulk && !source_.issued.empty()) return;
        const std::string words = text_below(one);
        std::string edtf = plain ? date_of(words) : structured(one);
        if (edtf.empty()) edtf = date_of(attribute(one, "normal"));
        if (!edtf.empty()) {
            source_.issued = edtf;
            return;
        }
        const std::string folded = fold(words);
        if (folded.empty() || folded == "undated" || folded == "n.d." || folded == "no date") return;
        more("date", words);
        problems_.add({"ead-date", Severity::warning, document_.place(one),
                       fmt::format("the date \"{}\" cannot be read; its words are kept", words),
                       "add its normal form: normal=\"1936/1944\""});
    }

    static std::string structured(pugi::xml_node one) {
        if (const pugi::xml_node single = child_named(one, "datesingle")) return single_date(single);
        pugi::xml_node range = child_named(one, "daterange");
        if (const pugi::xml_node set = child_named(one, "dateset"); set && !range) {
            if (const pugi::xml_node single = child_named(set, "datesingle")) return single_date(single);
            range = child_named(set, "daterange");
        }
        if (!range) return {};
        const std::string from = single_date(child_named(range, "fromdate"));
        const std::string to = single_date(child_named(range, "todate"));
        if (from.empty() && to.empty()) return {};
        return date_of(fmt::format("{}/{}", from, to));
    }

    const XmlDocument& document_;
    Source& source_;
    Problems& problems_;
    bool box_seen_ = false;
};

}  // namespace

void describe_unit(const XmlDocument& document, pugi::xml_node unit, Source& source, Problems& problems) {
    // The date is the unit's own: a folder is not dated by its collection.
    UnitReader(document, source, problems).read(unit);
}

}  // namespace saggar
