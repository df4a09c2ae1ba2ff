#include "viz/dossier/pictures.h"

#include <fmt/format.h>

#include <functional>

#include "kg/model/fault.h"
#include "kg/model/vocabulary.h"
#include "kg/weigh/profile.h"
#include "kg/weigh/weigher.h"
#include "viz/argument.h"
#include "viz/condense.h"
#include "viz/descent.h"
#include "viz/dot.h"
#include "viz/grid.h"
#include "viz/neighbourhood.h"
#include "viz/run_chart.h"
#include "viz/svg.h"
#include "viz/year_band.h"

namespace saggar::viz {

namespace {

constexpr std::size_t kMostDisputes = 5;

class PictureMaker {
public:
    explicit PictureMaker(const PictureRequest& request) : request_(request) {}

    std::vector<DossierPicture> run() {
        around();
        runs();
        years();
        cells("comprises", "grid");
        cells("treated-with", "treatments");
        diagram("descent", descent(request_.snapshot, {request_.thing}, {}, request_.draft));
        for (std::size_t i = 0; i < request_.disputes.size() && i < kMostDisputes; ++i) {
            std::vector<Weight> views;
            for (const auto claim : request_.disputes[i]) views.push_back(request_.weigher.weigh(claim));
            diagram(fmt::format("dispute-{}", i + 1), dispute(request_.snapshot, views, request_.draft));
        }
        return std::move(pictures_);
    }

private:
    std::string prefix() const { return fmt::format("p{}", pictures_.size() + 1); }

    void diagram(const std::string& name, const Diagram& drawn) {
        if (drawn.edges.empty()) return;
        const auto small = condensed(drawn, request_.options.most_boxes);
        SvgOptions options;
        options.id_prefix = prefix();
        try {
            pictures_.push_back({name, small.title, to_svg(small, options), to_dot(drawn)});
        } catch (const LimitFault&) {
            return;  // see pictures.h
        }
    }

    // People, firms, places, lines and shapes; articles and treatments have their grids, papers their notes.
    void around() {
        NeighbourhoodOptions options;
        for (const auto& kind : request_.snapshot.vocabulary().kinds()) {
            const bool wanted = kind.category == "crm:E21_Person" || kind.category == "crm:E39_Actor" ||
                                kind.category == "crm:E53_Place" || kind.category == "crm:E99_Product_Type" ||
                                kind.category == "crm:E37_Mark";
            if (wanted && kind.name != "item") options.only.insert(kind.name);
        }
        diagram("around", neighbourhood(request_.snapshot, request_.thing, options, request_.draft));
    }

    void runs() {
        RunOptions options;
        options.figure = request_.draft.figure;
        options.with_private = request_.draft.with_private;
        options.cite = request_.draft.cite;
        options.about_years = request_.weigher.profile().about_years;
        options.made_from = request_.draft.made_from;
        options.dated = dated_by(request_.snapshot, request_.weigher, options.with_private);
        const auto chart = run_chart(request_.snapshot, {request_.thing}, options);
        if (chart.rows.empty() || !chart.rows.front().any) return;
        pictures_.push_back({"runs", chart.title, to_svg(chart, prefix()), {}});
    }

    // By year, where the vocabulary has time points for things of this kind and something bounds them.
    void years() {
        const auto rules = TimeRules::of(request_.snapshot.vocabulary());
        DatingQuestion question;
        question.thing = request_.thing;
        question.with_private = request_.draft.with_private;
        try {
            const auto answer = date_thing(request_.snapshot, request_.weigher, rules, question);
            const auto figures = date_years(request_.snapshot, request_.weigher, rules, question);
            const auto band = year_band(request_.snapshot, answer, figures, request_.draft);
            if (!band.lanes.empty()) pictures_.push_back({"years", band.title, to_svg(band, prefix()), {}});
        } catch (const UsageFault&) {
            return;  // nothing of this kind is dated
        }
    }

    void cells(const char* relation, const char* name) {
        GridOptions options;
        options.figure = request_.draft.figure;
        options.relation = relation;
        options.with_private = request_.draft.with_private;
        options.cite = request_.draft.cite;
        options.made_from = request_.draft.made_from;
        const auto drawn = grid(request_.snapshot, {request_.thing}, options);
        if (drawn.columns.empty()) return;
        pictures_.push_back({name, drawn.title, to_svg(drawn, prefix()), {}});
    }

    const PictureRequest& request_;
    std::vector<DossierPicture> pictures_;
};

}  // namespace

std::vector<DossierPicture> pictures_for(const PictureRequest& request) { return PictureMaker(request).run(); }

}  // namespace saggar::viz
