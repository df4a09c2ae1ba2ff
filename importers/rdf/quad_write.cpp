#include "importers/rdf/quad_write.h"

#include <algorithm>

#include "importers/rdf/own_names.h"
#include "kg/model/json_write.h"

namespace saggar::rdf {
namespace {

// Whether a name may stand behind a prefix in Turtle without escapes, and in JSON-LD.
bool is_plain_name(std::string_view name) {
    const auto plain = [](char sign) {
        return (sign >= 'a' && sign <= 'z') || (sign >= 'A' && sign <= 'Z') || (sign >= '0' && sign <= '9') || sign == '_';
    };
    if (name.empty() || !plain(name.front()) || name.back() == '.') return false;
    return std::all_of(name.begin(), name.end(),
                       [&](char sign) { return plain(sign) || sign == '-' || sign == '.' || sign == ':'; });
}

// The IRI shortened by a prefix, or empty.
std::string shortened(std::string_view iri) {
    for (const auto& [name, start] : prefixes()) {
        if (iri.size() > start.size() && iri.substr(0, start.size()) == start && is_plain_name(iri.substr(start.size())))
            return name + ":" + std::string(iri.substr(start.size()));
    }
    return {};
}

class NQuadsWriter final : public QuadWriter {
public:
    explicit NQuadsWriter(std::ostream& out) : out_(out) {}
    void put(const Quad& quad) override { out_ << nquads_line(quad); }
    void finish() override {}

private:
    std::ostream& out_;
};

class TrigWriter final : public QuadWriter {
public:
    explicit TrigWriter(std::ostream& out) : out_(out) {
        for (const auto& [name, iri] : prefixes()) out_ << "@prefix " << name << ": <" << iri << "> .\n";
    }

    void put(const Quad& quad) override {
        if (!open_ || quad.graph != graph_) {
            close_graph();
            open_ = true;
            graph_ = quad.graph;
            out_ << '\n';
            if (!graph_.empty()) out_ << shown(graph_) << " {\n";
        }
        const char* const indent = graph_.empty() ? "" : "    ";
        if (quad.subject != subject_) {
            close_subject();
            subject_ = quad.subject;
            out_ << indent << shown(quad.subject) << ' ' << verb(quad.predicate) << ' ';
        } else if (quad.predicate != predicate_) {
            out_ << " ;\n" << indent << "    " << verb(quad.predicate) << ' ';
        } else {
            out_ << " , ";
        }
        predicate_ = quad.predicate;
        out_ << shown(quad.object);
    }

    void finish() override { close_graph(); }

private:
    void close_subject() {
        if (!subject_.empty()) out_ << " .\n";
        subject_.clear();
        predicate_.clear();
    }
    void close_graph() {
        close_subject();
        if (open_ && !graph_.empty()) out_ << "}\n";
    }
    static std::string verb(const std::string& term) {
        return term == "<http://www.w3.org/1999/02/22-rdf-syntax-ns#type>" ? "a" : shown(term);
    }
    static std::string shown(const std::string& term) {
        if (is_iri(term)) {
            const std::string brief = shortened(iri_of(term));
            return brief.empty() ? term : brief;
        }
        if (!is_literal(term)) return term;
        const std::string_view datatype = literal_of(term).datatype;
        const std::string brief = datatype.empty() ? std::string() : shortened(datatype);
        return brief.empty() ? term : term.substr(0, term.size() - datatype.size() - 2) + brief;
    }

    std::ostream& out_;
    bool open_ = false;
    std::string graph_;
    std::string subject_;
    std::string predicate_;
};

// { "@context": ..., "@graph": [ node, ..., {"@id": GRAPH, "@graph": [ node, ... ]}, ... ] }, a node a line.
class JsonLdWriter final : public QuadWriter {
public:
    explicit JsonLdWriter(std::ostream& out) : out_(out) {
        std::string head = context_document();
        head.erase(head.find_last_of('}'));
        while (!head.empty() && (head.back() == '\n' || head.back() == ' ')) head.pop_back();
        out_ << head << ",\n  \"@graph\": [\n";
    }

    void put(const Quad& quad) override {
        if (quad.graph != graph_) {
            close_graph();
            graph_ = quad.graph;
            separate();
            out_ << "{\"@id\": " << name(graph_) << ", \"@graph\": [\n";
            first_ = true;
        }
        if (quad.subject != subject_) {
            close_node();
            subject_ = quad.subject;
            separate();
            out_ << "{\"@id\": " << name(subject_);
        }
        if (quad.predicate != predicate_) {
            close_values();
            predicate_ = quad.predicate;
            typing_ = predicate_ == "<http://www.w3.org/1999/02/22-rdf-syntax-ns#type>";
            out_ << ", " << (typing_ ? std::string("\"@type\"") : name(predicate_)) << ": [";
        } else {
            out_ << ", ";
        }
        out_ << (typing_ ? name(quad.object) : value(quad.object));
    }

    void finish() override {
        close_graph();
        out_ << "\n  ]\n}\n";
    }

private:
    void separate() {
        if (!first_) out_ << ",\n";
        first_ = false;
    }
    void close_values() {
        if (!predicate_.empty()) out_ << ']';
        predicate_.clear();
    }
    void close_node() {
        close_values();
        if (!subject_.empty()) out_ << '}';
        subject_.clear();
    }
    void close_graph() {
        close_node();
        if (!graph_.empty()) out_ << "\n]}";
        first_ = first_ && graph_.empty();
        graph_.clear();
    }
    static std::string json_text(std::string_view text) {
        std::string out;
        append_json_string(text, out);
        return out;
    }
    static std::string name(const std::string& term) {
        if (!is_iri(term)) return json_text(term);
        const std::string brief = shortened(iri_of(term));
        return json_text(brief.empty() ? iri_of(term) : std::string_view(brief));
    }
    static std::string value(const std::string& term) {
        if (!is_literal(term)) return "{\"@id\": " + name(term) + "}";
        const LiteralParts parts = literal_of(term);
        if (!parts.tag.empty()) return "{\"@language\": " + json_text(parts.tag) + ", \"@value\": " + json_text(parts.text) + "}";
        if (parts.datatype.empty()) return json_text(parts.text);
        return "{\"@type\": " + name(iri_term(parts.datatype)) + ", \"@value\": " + json_text(parts.text) + "}";
    }

    std::ostream& out_;
    bool first_ = true;
    bool typing_ = false;
    std::string graph_;
    std::string subject_;
    std::string predicate_;
};

}  // namespace

std::unique_ptr<QuadWriter> quad_writer(std::string_view format, std::ostream& out) {
    if (format == "nquads") return std::make_unique<NQuadsWriter>(out);
    if (format == "trig") return std::make_unique<TrigWriter>(out);
    if (format == "jsonld") return std::make_unique<JsonLdWriter>(out);
    return nullptr;
}

}  // namespace saggar::rdf
