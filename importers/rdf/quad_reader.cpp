#include "importers/rdf/quad_reader.h"

#include <fmt/format.h>
#include <serd/serd.h>

#include <array>
#include <cstdarg>
#include <cstdio>
#include <exception>
#include <memory>

namespace saggar::rdf {
namespace {

struct Free {
    void operator()(SerdReader* reader) const { serd_reader_free(reader); }
    void operator()(SerdEnv* env) const { serd_env_free(env); }
};

std::string_view view(const SerdNode& node) { return {reinterpret_cast<const char*>(node.buf), node.n_bytes}; }

SerdSyntax serd_syntax(Syntax syntax) {
    switch (syntax) {
        case Syntax::turtle: return SERD_TURTLE;
        case Syntax::trig: return SERD_TRIG;
        case Syntax::ntriples: return SERD_NTRIPLES;
        case Syntax::nquads: return SERD_NQUADS;
    }
    return SERD_TURTLE;
}

struct StopWords {
    const char* id;
    const char* message;
    const char* next;
};
constexpr StopWords stop_words[] = {
    {"rdf-nul", "there is a NUL in the text", "take it out"},
    {"rdf-too-deep", "brackets are nested more than 64 deep", "give the inner nodes labels of their own"},
    {"rdf-too-long", "a literal, IRI or comment is longer than 4 MiB", "shorten it, or keep the text in a file of its own"},
};

class SerdQuads {
public:
    SerdQuads(TextInput& input, const QuadReading& reading, const QuadVisitor& visit, Problems& problems)
        : name_(input.name()),
          syntax_(reading.syntax),
          lines_(reading.syntax == Syntax::ntriples || reading.syntax == Syntax::nquads),
          feed_(input, lines_),
          visit_(visit),
          problems_(problems) {
        SerdNode base = SERD_NODE_NULL;
        if (!reading.base.empty()) {
            base_ = reading.base;
            base = serd_node_from_string(SERD_URI, reinterpret_cast<const std::uint8_t*>(base_.c_str()));
        }
        env_.reset(serd_env_new(&base));
        make_reader();
    }

    void make_reader() {
        reader_.reset(serd_reader_new(serd_syntax(syntax_), this, nullptr, on_base, on_prefix, on_statement, nullptr));
        serd_reader_set_strict(reader_.get(), true);
        serd_reader_set_error_sink(reader_.get(), on_error, this);
    }

    void read() {
        do {
            failed_ = false;
            const SerdStatus status = serd_reader_read_source(reader_.get(), next_byte, no_error, this, nullptr, 1);
            if (thrown_) std::rethrow_exception(thrown_);
            if (!feed_.stopped().empty()) {
                tell_stop();
            } else if (status > SERD_FAILURE && !failed_) {
                wrong("rdf-syntax", feed_.here(), "this is not what the syntax allows here", syntax_next_step());
            }
            if (feed_.resume()) {
                make_reader();
                if (!failed_) continue;
            } else if (!failed_ && !feed_.at_end()) {
                wrong("rdf-syntax", feed_.here(), "this is not what the syntax allows here", syntax_next_step());
            }
            if (!failed_ && feed_.at_end()) return;
            if (!lines_ || !feed_.skip_line()) return;
        } while (true);
    }

private:
    static SerdQuads& self(void* handle) { return *static_cast<SerdQuads*>(handle); }

    static std::size_t next_byte(void* to, std::size_t, std::size_t, void* handle) {
        SerdQuads& me = self(handle);
        const int byte = me.guarded([&] { return me.feed_.next(); }, -1);
        *static_cast<std::uint8_t*>(to) = byte < 0 ? 0 : static_cast<std::uint8_t>(byte);
        return byte < 0 ? 0 : 1;
    }
    static int no_error(void*) { return 0; }

    // No exception may pass through the parser, which is C: it waits here until the parser has returned.
    template <class Call, class Result>
    Result guarded(const Call& call, Result otherwise) {
        if (thrown_) return otherwise;
        try {
            return call();
        } catch (...) {
            thrown_ = std::current_exception();
            return otherwise;
        }
    }

    static SerdStatus on_base(void* handle, const SerdNode* uri) {
        SerdQuads& me = self(handle);
        std::string resolved;
        if (!me.expand(*uri, resolved)) return SERD_ERR_BAD_ARG;
        return serd_env_set_base_uri(me.env_.get(), uri);
    }
    static SerdStatus on_prefix(void* handle, const SerdNode* name, const SerdNode* uri) {
        SerdQuads& me = self(handle);
        std::string resolved;
        if (!me.expand(*uri, resolved)) return SERD_ERR_BAD_ARG;
        return serd_env_set_prefix(me.env_.get(), name, uri);
    }
    static SerdStatus on_statement(void* handle, SerdStatementFlags, const SerdNode* graph, const SerdNode* subject,
                                   const SerdNode* predicate, const SerdNode* object, const SerdNode* datatype,
                                   const SerdNode* tag) {
        SerdQuads& me = self(handle);
        return me.guarded([&] { return me.statement(graph, *subject, *predicate, *object, datatype, tag); }, false)
                   ? SERD_SUCCESS
                   : SERD_ERR_BAD_ARG;
    }
    static SerdStatus on_error(void* handle, const SerdError* error) {
        SerdQuads& me = self(handle);
        if (me.failed_ || me.thrown_ || !me.feed_.stopped().empty()) return SERD_SUCCESS;
        std::array<char, 256> words{};
        va_list arguments;
        va_copy(arguments, *error->args);
        std::vsnprintf(words.data(), words.size(), error->fmt, arguments);
        va_end(arguments);
        std::string text(words.data());
        while (!text.empty() && (text.back() == '\n' || text.back() == '.')) text.pop_back();
        for (char& sign : text) {
            if (static_cast<unsigned char>(sign) < 0x20 || static_cast<unsigned char>(sign) > 0x7E) sign = '?';
        }
        me.wrong("rdf-syntax", me.feed_.here(), text, me.syntax_next_step());
        return SERD_SUCCESS;
    }

    const char* syntax_next_step() const {
        return lines_ ? "write the line as subject, predicate, object and a full stop, with IRIs in < >"
                      : "look at the sign above and at what stands before it: a missing full stop, quote or prefix";
    }

    // `slice`: what stands in the text, where it is known (quad_reader.h).
    void wrong(const char* id, Spot spot, std::string message, std::string next, std::string slice = {}) {
        failed_ = true;
        problems_.add({id, Severity::error, Place{name_, spot.line, spot.column, std::move(slice), 0}, std::move(message), std::move(next)});
    }

    void tell_stop() {
        for (const StopWords& words : stop_words) {
            if (feed_.stopped() == words.id) wrong(words.id, feed_.here(), words.message, words.next);
        }
    }

    // An absolute IRI from an IRI or prefixed name of the text.
    bool expand(const SerdNode& node, std::string& iri) {
        if (node.type == SERD_URI && is_absolute_iri(view(node))) {
            iri.assign(view(node));
            return true;
        }
        SerdNode full = serd_env_expand_node(env_.get(), &node);
        if (!full.buf) {
            wrong("rdf-no-prefix", feed_.finished_token(), fmt::format("the prefix of \"{}\" is not declared", view(node)),
                  "declare it with @prefix before it is used", std::string(view(node)));
            return false;
        }
        iri.assign(view(full));
        serd_node_free(&full);
        if (is_absolute_iri(iri)) return true;
        const bool relative = iri.find(':') == std::string::npos;
        wrong(relative ? "rdf-relative-iri" : "rdf-bad-iri", feed_.finished_token(),
              relative ? fmt::format("<{}> is a relative IRI, and nothing says what it starts from", iri)
                       : fmt::format("<{}> is no IRI", iri),
              relative ? "write it in full, or put @base before it"
                       : "start it with a scheme; percent-encode blanks, quotes and brackets in it",
              std::string(view(node)));
        return false;
    }

    bool node(const SerdNode& from, std::string& term) {
        if (from.type == SERD_BLANK) {
            term.assign("_:");
            term += view(from);
            return true;
        }
        if (!expand(from, iri_)) return false;
        term.assign("<");
        term += iri_;
        term += '>';
        return true;
    }

    bool statement(const SerdNode* graph, const SerdNode& subject, const SerdNode& predicate, const SerdNode& object,
                   const SerdNode* datatype, const SerdNode* tag) {
        if (!node(subject, quad_.subject) || !node(predicate, quad_.predicate)) return false;
        quad_.graph.clear();
        if (graph && graph->buf && !node(*graph, quad_.graph)) return false;
        if (object.type != SERD_LITERAL) {
            if (!node(object, quad_.object)) return false;
        } else if (tag && tag->buf) {
            quad_.object = tagged_term(view(object), view(*tag));
        } else if (datatype && datatype->buf) {
            if (!expand(*datatype, iri_)) return false;
            quad_.object = typed_term(view(object), iri_);
        } else {
            quad_.object = literal_term(view(object));
        }
        visit_(quad_, lines_ ? Spot{feed_.here().line, 1} : feed_.finished_token());
        return true;
    }

    std::string name_;
    Syntax syntax_;
    bool lines_;
    ByteFeed feed_;
    const QuadVisitor& visit_;
    Problems& problems_;
    std::string base_;
    std::unique_ptr<SerdEnv, Free> env_;
    std::unique_ptr<SerdReader, Free> reader_;
    bool failed_ = false;
    std::exception_ptr thrown_;
    Quad quad_;
    std::string iri_;
};

}  // namespace

void read_quads(TextInput& input, const QuadReading& reading, const QuadVisitor& visit, Problems& problems) {
    SerdQuads(input, reading, visit, problems).read();
}

}  // namespace saggar::rdf
