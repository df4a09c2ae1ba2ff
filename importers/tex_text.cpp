#include "importers/tex_text.h"

#include <unicode/normalizer2.h>

#include "importers/text_decode.h"
#include "kg/model/text_lines.h"

namespace saggar {
namespace {

struct Accent {
    std::string_view command;
    char32_t mark;
};

// "The TeXbook" (Knuth 1986), chapter 9, and the accents of LaTeX's inputenc.
constexpr Accent accents[] = {{"`", 0x300}, {"'", 0x301}, {"^", 0x302}, {"~", 0x303}, {"\"", 0x308},
                              {"=", 0x304}, {".", 0x307}, {"u", 0x306}, {"v", 0x30C}, {"H", 0x30B},
                              {"c", 0x327}, {"d", 0x323}, {"b", 0x331}, {"r", 0x30A}, {"k", 0x328}};

struct Symbol {
    std::string_view command;
    std::string_view text;
};

constexpr Symbol symbols[] = {{"ss", "ß"},
                              {"ae", "æ"},
                              {"AE", "Æ"},
                              {"oe", "œ"},
                              {"OE", "Œ"},
                              {"o", "ø"},
                              {"O", "Ø"},
                              {"aa", "å"},
                              {"AA", "Å"},
                              {"l", "ł"},
                              {"L", "Ł"},
                              {"i", "ı"},
                              {"j", "ȷ"},
                              {"th", "þ"},
                              {"TH", "Þ"},
                              {"dh", "ð"},
                              {"DH", "Ð"},
                              {"S", "§"},
                              {"P", "¶"},
                              {"copyright", "©"},
                              {"pounds", "£"},
                              {"dag", "†"},
                              {"ldots", "…"},
                              {"dots", "…"},
                              {"textendash", "–"},
                              {"textemdash", "—"},
                              {"textquoteright", "’"},
                              {"textquoteleft", "‘"},
                              {"textquotedblleft", "“"},
                              {"textquotedblright", "”"},
                              {"textbackslash", "\\"},
                              {"textasciitilde", "~"},
                              {"textasciicircum", "^"},
                              {"textunderscore", "_"},
                              {"euro", "€"},
                              {"&", "&"},
                              {"%", "%"},
                              {"$", "$"},
                              {"#", "#"},
                              {"_", "_"},
                              {"{", "{"},
                              {"}", "}"},
                              {" ", " "},
                              {"-", ""},
                              {"/", ""},
                              {",", " "},
                              {";", " "},
                              {":", " "},
                              {"!", ""},
                              {"\\", " "},
                              {"newline", "\n"},
                              {"TeX", "TeX"},
                              {"LaTeX", "LaTeX"},
                              {"BibTeX", "BibTeX"},
                              {"slash", "/"},
                              {"textellipsis", "…"},
                              {"textregistered", "®"},
                              {"texttrademark", "™"},
                              {"textdegree", "°"},
                              {"textsterling", "£"},
                              {"textnumero", "№"},
                              {"textonehalf", "½"},
                              {"textonequarter", "¼"},
                              {"textthreequarters", "¾"},
                              {"textbullet", "•"},
                              {"textperiodcentered", "·"},
                              {"textdagger", "†"},
                              {"textbar", "|"},
                              {"textless", "<"},
                              {"textgreater", ">"},
                              {"textquotesingle", "'"},
                              {"guillemotleft", "«"},
                              {"guillemotright", "»"},
                              {"quotedblbase", "„"},
                              {"quotesinglbase", "‚"},
                              {"space", " "}};

}  // namespace

std::string accented_letter(std::string_view accent, std::string_view base) {
    for (const Accent& one : accents) {
        if (one.command != accent) continue;
        std::string combined(base == "ı" ? "i" : base == "ȷ" ? "j" : base);
        append_utf8(one.mark, combined);
        UErrorCode status = U_ZERO_ERROR;
        const icu::Normalizer2* nfc = icu::Normalizer2::getNFCInstance(status);
        if (U_FAILURE(status)) return combined;
        std::string out;
        nfc->normalize(icu::UnicodeString::fromUTF8(combined), status).toUTF8String(out);
        return out;
    }
    return {};
}

std::string_view tex_symbol(std::string_view command) {
    for (const Symbol& symbol : symbols) {
        if (symbol.command == command) return symbol.text;
    }
    return {};
}

namespace {

// Symbols, accents, and what only says how words look or stand; anything else is kept as it is written.
bool is_known_command(std::string_view command) {
    for (const std::string_view looks :
         {"emph", "textit", "textbf", "textsc", "textsl", "textrm", "textsf", "texttt", "textup", "textmd", "textnormal", "mkbibquote", "mkbibemph",
          "mkbibitalic", "mkbibbold", "enquote", "underline", "uppercase", "lowercase", "MakeUppercase", "MakeLowercase", "em", "it", "bf", "sc", "sl",
          "rm", "sf", "tt", "itshape", "bfseries", "scshape", "slshape", "upshape", "rmfamily", "sffamily", "ttfamily", "normalfont", "small", "large",
          "footnotesize", "relax", "protect", "noop", "url", "path", "href", "mbox", "hbox", "text", "ensuremath", "nobreak", "newline", "par", "sim"}) {
        if (command == looks) return true;
    }
    for (const Accent& accent : accents)
        if (accent.command == command) return true;
    return !tex_symbol(command).empty();
}

// One command behind its backslash, with the letter it works on; `at` is moved behind both.
std::string tex_command(std::string_view tex, std::size_t& at) {
    const auto is_letter = [](char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); };
    std::size_t end = at;
    while (end < tex.size() && is_letter(tex[end])) ++end;
    if (end == at && at < tex.size()) end = at + sign_at(tex, at).size();  // a letter beyond ASCII is one sign
    const std::string_view command = tex.substr(at, end - at);
    const bool word = !command.empty() && is_letter(command.front());
    std::size_t rest = end;
    while (word && rest < tex.size() && tex[rest] == ' ') ++rest;
    // An accent takes the next letter, in braces or not, perhaps itself a command (\i).
    std::size_t base = rest;
    const bool brace = base < tex.size() && tex[base] == '{';
    if (brace) ++base;
    std::string letter;
    if (base < tex.size() && tex[base] == '\\' && base + 1 < tex.size() &&
        (tex[base + 1] == 'i' || tex[base + 1] == 'j') && (base + 2 >= tex.size() || !is_letter(tex[base + 2]))) {
        letter = tex[base + 1];
        base += 2;
    } else if (base < tex.size() && tex[base] != '}' && tex[base] != '\\') {
        letter = std::string(sign_at(tex, base));
        base += letter.size();
    }
    if (!letter.empty() && (!brace || (base < tex.size() && tex[base] == '}'))) {
        const std::string accented = accented_letter(command, letter);
        if (!accented.empty()) {
            at = base + brace;
            return accented;
        }
    }
    at = word ? rest : end;
    if (word && !is_known_command(command)) return "\\" + std::string(command) + (rest < tex.size() && tex[rest] != '}' ? " " : "");
    return std::string(tex_symbol(command));
}

}  // namespace

std::string text_of_tex(std::string_view tex) {
    std::string out;
    for (std::size_t at = 0; at < tex.size();) {
        const char c = tex[at];
        if (c == '\\') {
            ++at;
            out += tex_command(tex, at);
        } else if (c == '{' || c == '}') {
            ++at;
        } else if (c == '~') {
            out += "\u00a0";
            ++at;
        } else if (tex.substr(at, 3) == "---") {
            out += "\u2014";
            at += 3;
        } else if (tex.substr(at, 2) == "--") {
            out += "\u2013";
            at += 2;
        } else if (tex.substr(at, 2) == "``") {
            out += "\u201c";
            at += 2;
        } else if (tex.substr(at, 2) == "''") {
            out += "\u201d";
            at += 2;
        } else if (c == '\n' || c == '\r' || c == '\t' || c == ' ') {
            if (out.empty() || out.back() != ' ') out += ' ';
            ++at;
        } else {
            out += c;
            ++at;
        }
    }
    return out;
}

std::string text_of_verbatim(std::string_view tex) {
    std::string out;
    for (std::size_t at = 0; at < tex.size(); ++at) {
        const char c = tex[at];
        if (c == '\\') {
            const std::string_view rest = tex.substr(at + 1);
            std::size_t length = 1;
            if (rest.substr(0, 14) == "textasciitilde" || rest.substr(0, 1) == "~") {
                out += '~';
                length = rest.front() == '~' ? 1 : 14;
            } else if (rest.substr(0, 15) == "textasciicircum") {
                out += '^';
                length = 15;
            } else if (rest.substr(0, 13) == "textbackslash") {
                out += '\\';
                length = 13;
            } else if (!rest.empty() && std::string_view("_%&#${} ").find(rest.front()) != std::string_view::npos) {
                out += rest.front();
            } else {
                out += c;
                length = 0;
            }
            at += length;
        } else if (c != '{' && c != '}' && c != '\n' && c != '\r') {
            out += c;
        }
    }
    return out;
}

std::string tex_escaped(std::string_view text) {
    std::string out;
    for (std::size_t i = 0; i < text.size(); ++i) {
        switch (text[i]) {
            case '\\':
                out += "{\\textbackslash}";
                break;
            case '~':
                out += "{\\textasciitilde}";
                break;
            case '^':
                out += "{\\textasciicircum}";
                break;
            case '{':
            case '}':
            case '&':
            case '%':
            case '$':
            case '#':
            case '_':
                out += '\\';
                out += text[i];
                break;
            case '-':
            case '\'':
            case '`':  // two of them would be read as a dash or a quotation mark
                out += text[i];
                if (i + 1 < text.size() && text[i + 1] == text[i]) out += "{}";
                break;
            case ' ':  // a second blank would be squeezed
                out += i > 0 && text[i - 1] == ' ' ? "\\ " : " ";
                break;
            case '\n':
                out += "{\\newline}";
                break;
            default:
                out += text[i];
        }
    }
    return out;
}

}  // namespace saggar
