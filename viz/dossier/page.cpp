// The dossier as one HTML page: no script, no request, readable on paper.
#include <fmt/format.h>

#include "viz/dossier/dossier.h"
#include "viz/dossier/page_style.h"
#include "viz/xml.h"

namespace saggar::viz {

namespace {

std::string element(std::string_view tag, std::string_view text, std::string_view attributes = {}) {
    return fmt::format("<{}{}{}>{}</{}>\n", tag, attributes.empty() ? "" : " ", attributes, xml_escaped(text), tag);
}

// "¹²": links to the notes. Each mention has an id, so that the note can lead back to its first.
class Marks {
public:
    std::string of(const std::vector<int>& numbers, std::string_view words) {
        if (numbers.empty()) return {};
        std::string out = fmt::format(" <span class=\"side\">{}</span> ", words);
        for (const int number : numbers) {
            const bool first =
                static_cast<std::size_t>(number) >= seen_.size() || !seen_[static_cast<std::size_t>(number)];
            if (static_cast<std::size_t>(number) >= seen_.size()) seen_.resize(static_cast<std::size_t>(number) + 1);
            seen_[static_cast<std::size_t>(number)] = true;
            out += fmt::format("<sup><a href=\"#note-{0}\"{1} aria-label=\"note {0}\">{0}</a></sup>", number,
                               first ? fmt::format(" id=\"mark-{}\"", number) : "");
        }
        return out;
    }

private:
    std::vector<bool> seen_;
};

class Page {
public:
    explicit Page(const Dossier& dossier) : dossier_(dossier) {}

    std::string write() {
        head();
        out_ += "<body>\n<header>\n";
        out_ += element("p", dossier_.kind, "class=\"kind\"");
        out_ += element("h1", dossier_.title);
        if (!dossier_.also.empty()) out_ += element("p", "Also: " + dossier_.also);
        if (!dossier_.remark.empty()) out_ += element("p", dossier_.remark);
        out_ += "</header>\n";
        contents();
        out_ += "<main>\n";
        cautions();
        for (const auto& section : dossier_.sections) sentences(section);
        disputes();
        pictures();
        unknown();
        notes();
        sources();
        out_ += "</main>\n";
        colophon();
        out_ += "</body>\n</html>\n";
        return std::move(out_);
    }

private:
    void head() {
        out_ += "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n";
        out_ += "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n";
        out_ +=
            "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'; "
            "img-src data:\">\n";
        out_ += "<link rel=\"icon\" href=\"data:,\">\n";
        out_ += element("title", fmt::format("{} ({})", dossier_.title, dossier_.kind));
        out_ += fmt::format("<style>\n{}</style>\n</head>\n", kPageStyle);
    }

    void open_section(std::string_view id, std::string_view heading) {
        out_ += fmt::format("<section id=\"{0}\" aria-labelledby=\"{0}-heading\">\n<h2 id=\"{0}-heading\">{1}</h2>\n",
                            id, xml_escaped(heading));
    }
    void close_section() { out_ += "</section>\n"; }

    static std::string id_of(std::size_t section) { return fmt::format("part-{}", section + 1); }

    void contents() {
        out_ += "<nav aria-label=\"Contents\">\n<ul>\n";
        const auto item = [this](const std::string& id, std::string_view text) {
            out_ += fmt::format("<li><a href=\"#{}\">{}</a></li>\n", id, xml_escaped(text));
        };
        for (std::size_t i = 0; i < dossier_.sections.size(); ++i) item(id_of(i), dossier_.sections[i].heading);
        if (!dossier_.disputes.empty()) item("disputes", "Disputes");
        if (!dossier_.pictures.empty()) item("pictures", "Pictures");
        if (!dossier_.unknown.empty()) item("unknown", "What is not known");
        if (!dossier_.notes.empty()) item("notes", "Notes");
        if (!dossier_.sources.empty()) item("sources", "Sources");
        out_ += "</ul>\n</nav>\n";
    }

    void cautions() {
        if (dossier_.cautions.empty()) return;
        out_ += "<aside class=\"caution\" aria-label=\"Caution\">\n";
        for (const auto& caution : dossier_.cautions) out_ += element("p", "! " + caution);
        out_ += "</aside>\n";
    }

    void sentence(const DossierSentence& sentence, bool in_group = false) {
        out_ += fmt::format("<li data-key=\"{}\">{}", xml_escaped(sentence.key),
                            xml_escaped(in_group ? sentence.item : sentence.text));
        if (!sentence.weight.empty())
            out_ += fmt::format(" <span class=\"weight\">({})</span>", xml_escaped(sentence.weight));
        out_ += marks_.of(sentence.cited_for, "for") + marks_.of(sentence.cited_against, "against");
        if (sentence.cited_for.empty() && sentence.cited_against.empty())
            out_ += " <span class=\"side\">no evidence recorded</span>";
        if (sentence.disputed) out_ += " <span class=\"mark\">\u2260 disputed</span>";
        if (!sentence.ruling.empty())
            out_ += fmt::format("<br><span class=\"mark\">\u00A7 ruling:</span> {}", xml_escaped(sentence.ruling));
        out_ += "</li>\n";
    }

    void sentences(const DossierSection& section) {
        open_section(id_of(part_++), section.heading);
        out_ += "<ul class=\"claims\">\n";
        for (const auto& group : groups_of(section)) {
            if (group.lead.empty()) {
                sentence(*group.sentences.front());
                continue;
            }
            out_ += fmt::format("<li>{}:\n<ul class=\"group\">\n", xml_escaped(group.lead));
            for (const auto* one : group.sentences) sentence(*one, true);
            out_ += "</ul>\n</li>\n";
        }
        out_ += "</ul>\n";
        close_section();
    }

    void disputes() {
        if (dossier_.disputes.empty()) return;
        open_section("disputes", "Disputes");
        for (const auto& dispute : dossier_.disputes) {
            out_ += element("h3", dispute.title);
            out_ += "<ol class=\"claims views\">\n";
            for (const auto& view : dispute.views) sentence(view);
            out_ += "</ol>\n";
        }
        close_section();
    }

    void pictures() {
        if (dossier_.pictures.empty()) return;
        open_section("pictures", "Pictures");
        for (std::size_t i = 0; i < dossier_.pictures.size(); ++i) {
            const auto& picture = dossier_.pictures[i];
            out_ += fmt::format(
                "<figure>\n<div class=\"sheet\" role=\"region\" tabindex=\"0\" aria-label=\"Picture {}: "
                "{}\">\n{}</div>\n",
                i + 1, xml_escaped(picture.title), picture.svg);
            out_ +=
                fmt::format("<figcaption>Picture {}. {}</figcaption>\n</figure>\n", i + 1, xml_escaped(picture.title));
        }
        close_section();
    }

    void unknown() {
        if (dossier_.unknown.empty()) return;
        open_section("unknown", "What is not known");
        out_ += element("p", "Nothing is recorded on the following. That is not evidence that there is nothing.");
        out_ += "<ul>\n";
        for (const auto& one : dossier_.unknown) out_ += element("li", one);
        out_ += "</ul>\n";
        close_section();
    }

    void notes() {
        if (dossier_.notes.empty()) return;
        open_section("notes", "Notes");
        out_ += "<ol>\n";
        for (std::size_t i = 0; i < dossier_.notes.size(); ++i) {
            out_ += fmt::format(
                "<li id=\"note-{0}\">{1} <a href=\"#mark-{0}\" aria-label=\"back to the text of note "
                "{0}\">\u21A9</a></li>\n",
                i + 1, to_html(dossier_.notes[i]));
        }
        out_ += "</ol>\n";
        close_section();
    }

    void sources() {
        if (dossier_.sources.empty()) return;
        open_section("sources", "Sources");
        out_ += "<ul class=\"sources\">\n";
        for (const auto& source : dossier_.sources) {
            out_ += fmt::format("<li>{}", to_html(source.entry));
            if (!source.source.rights.empty())
                out_ += fmt::format(" <span class=\"side\">Rights: {}.</span>", xml_escaped(source.source.rights));
            if (source.kept.empty()) out_ += " <span class=\"side\">Where it is kept is not recorded.</span>";
            out_ += "</li>\n";
        }
        out_ += "</ul>\n";
        close_section();
    }

    void colophon() {
        out_ += "<footer>\n";
        if (!dossier_.left_out.empty()) out_ += element("p", "Left out: " + dossier_.left_out);
        for (const auto& line : dossier_.colophon) out_ += element("p", line);
        out_ += "</footer>\n";
    }

    const Dossier& dossier_;
    Marks marks_;
    std::size_t part_ = 0;
    std::string out_;
};

}  // namespace

std::string dossier_page(const Dossier& dossier) { return Page(dossier).write(); }

}  // namespace saggar::viz
