//! Bad input to fitting: each fault is one clear message at its cell.

use grainrow::fit::fit;
use grainrow::job::{BOARDS_CSV, FRONTS_CSV, JOB_TOML, JobFiles, OPENINGS_CSV};

const FRONTS: &str = "front,width,height,thickness,count,shape,rise\n\
    D1,20,8,3/4,,,\nD2,20,8,3/4,,,\nS,10,5,3/4,3,,\nA,20,8,3/4,,arch,2\n";

/// Everything that is wrong with a job, one line a fault, with what was expected and the hint.
fn complaints(job_toml: &str, openings: &str) -> String {
    let header = "front,left,right,top,bottom,diagonal_up,diagonal_down,bevel,bevel_face,\
                  bevel_drop,bevel_angle,pulls,anchor,cut";
    let files = JobFiles::new()
        .with(JOB_TOML, job_toml)
        .with(
            BOARDS_CSV,
            "board,length,width,thickness,tone\nB1,120,9,5/4,5\n",
        )
        .with(FRONTS_CSV, FRONTS)
        .with(OPENINGS_CSV, format!("{header}\n{openings}"));
    let faults = match files.parse() {
        Ok(reading) => fit(&reading.job).err(),
        Err(faults) => Some(faults),
    };
    let faults = faults.unwrap_or_default();
    let lines = faults.iter().map(|fault| {
        let more = fault
            .trouble
            .expected()
            .into_iter()
            .chain(fault.trouble.hint());
        let more: Vec<String> = more.collect();
        format!("{fault} | {}", more.join(" | "))
    });
    lines.collect::<Vec<_>>().join("\n")
}

#[test]
fn a_sound_job_has_nothing_to_complain_of() {
    let toml = "species = \"black cherry\"\n[gaps]\nmode = \"inset\"\nsides = \"1/16\"\nleast = \"1/32\"\n\
        [climate]\nshop_temperature = \"68 F\"\nshop_humidity = 40\ndriest_temperature = 70\n\
        driest_humidity = 25\nwettest_temperature = \"24 °C\"\nwettest_humidity = 65\n\
        [bevel]\nface = \"1 1/4\"\ndrop = \"3/8\"\n[pulls]\nspacing = \"3\"\n[sled]\nfence = \"24\"\n\
        [[arch]]\nname = \"top\"\nfronts = [\"D1\", \"D2\"]\nchord = \"44\"\nrise = \"3\"\n";
    assert_eq!(
        complaints(toml, "S.1,5,5 1/16,10,10,,,,,,,2,bottom,quarter\n"),
        ""
    );
}

#[test]
fn an_opening_that_cannot_close_names_the_likely_wrong_side() {
    insta::assert_snapshot!(complaints(
        "",
        "D1,8,8,2,20 1/8,,,\nD2,8 1/8,8 1/8,20 1/8,20 1/8,31 5/8,,\n"
    ));
}

#[test]
fn diagonals_that_contradict_name_the_likely_wrong_one() {
    insta::assert_snapshot!(complaints(
        "",
        "D1,8 1/8,8 1/8,20 1/8,20 1/8,21 11/16,22 11/16\n"
    ));
}

/// With a diagonal longer than two sides together there is no second one to compare with.
#[test]
fn a_diagonal_that_no_two_sides_reach_cannot_close() {
    let said = complaints("", "D1,8 1/8,8 1/8,20 1/8,20 1/8,31 11/16,21 11/16\n");
    assert!(said.contains("diagonal_up `31 11/16`"), "{said}");
    assert!(
        said.contains("can't close; `diagonal_up` is likely wrong"),
        "{said}"
    );
}

#[test]
fn a_shared_arch_higher_than_its_fronts_is_told_once() {
    let arch = "[[arch]]\nfronts = [\"D1\", \"D2\"]\nchord = 44\nrise = 20\n";
    let said = complaints(arch, "");
    assert_eq!(said.lines().count(), 1, "{said}");
    assert!(
        said.contains("rise `20`") && said.contains("no side is left there"),
        "{said}"
    );
}

#[test]
fn a_corner_that_points_inwards_is_told() {
    insta::assert_snapshot!(complaints("", "D1,20,15,5,12,16,\n"));
}

#[test]
fn gaps_wider_than_the_opening_are_told() {
    insta::assert_snapshot!(complaints("[gaps]\nsides = 11\n", "D1,8,8,20,20\n"));
}

#[test]
fn weather_that_never_was_is_told() {
    insta::assert_snapshot!(complaints(
        "[climate]\nshop_temperature = 68\nshop_humidity = 140\n\
        driest_temperature = \"mild\"\ndriest_humidity = 20\nwettest_temperature = \"90 C\"\nwettest_humidity = 65\n",
        ""
    ));
}

#[test]
fn seasons_the_wrong_way_round_are_told() {
    insta::assert_snapshot!(complaints(
        "[climate]\nmoisture = 8\ndriest_temperature = 70\n\
        driest_humidity = 65\nwettest_temperature = 70\nwettest_humidity = 25\n",
        ""
    ));
}

#[test]
fn a_climate_needs_all_its_air() {
    insta::assert_snapshot!(complaints(
        "[climate]\nshop_humidity = 40\nmoisture = 8\ndriest_humidity = 25\n",
        ""
    ));
    insta::assert_snapshot!(complaints(
        "[climate]\ndriest_temperature = 70\ndriest_humidity = 25\n",
        ""
    ));
}

#[test]
fn an_unknown_species_gets_the_nearest_names() {
    insta::assert_snapshot!(complaints("species = \"chery\"\n", ""));
    insta::assert_snapshot!(complaints("species = \"elm\"\n", ""));
}

#[test]
fn a_bevel_deeper_than_the_stock_is_told_once() {
    insta::assert_snapshot!(complaints(
        "[bevel]\nface = 1\ndrop = \"7/8\"\n",
        "D1,8,8,20,20\n"
    ));
    insta::assert_snapshot!(complaints("", "D1,8,8,20,20,,,,1,,45\n"));
}

#[test]
fn a_bevel_needs_two_measures_that_agree() {
    insta::assert_snapshot!(complaints("[bevel]\nface = 1\n", "D1,8,8,20,20,,,,1,,\n"));
    insta::assert_snapshot!(complaints(
        "[bevel]\nface = 1\ndrop = \"1/4\"\nangle = 30\n",
        "D1,8,8,20,20,,,no,1,,\nD2,8,8,20,20,,,yes\n"
    ));
    insta::assert_snapshot!(complaints(
        "[bevel]\nangle = 91\ndrop = \"1/4\"\nedges = [\"upper\"]\n",
        "D2,8,8,20,20,,,yes\n"
    ));
}

#[test]
fn arches_are_checked() {
    insta::assert_snapshot!(complaints(
        "[[arch]]\nname = \"a\"\nfronts = [\"D1\", \"D9\", \"A\", \"S\"]\nchord = 30\nrise = 16\n\
        [[arch]]\nfronts = [\"D1\"]\nchord = 30\n",
        ""
    ));
    insta::assert_snapshot!(complaints("", "A,6,6,3,20\n"));
    insta::assert_snapshot!(complaints(
        "[[arch]]\nfronts = [\"D1\"]\nchord = 10\nrise = 5\n",
        "D1,6,6,20,20\n"
    ));
}

#[test]
fn openings_name_one_front_each() {
    insta::assert_snapshot!(complaints(
        "",
        "D3,8,8,20,20\nS,5,5,10,10\nD1,8,8,20,20\nD1,8,8,20,20\nD2,8,,20,0\nS.1,5,5,10,10,,,,,,,3,middle,sawn\n"
    ));
}

#[test]
fn an_unknown_setting_gets_the_nearest() {
    insta::assert_snapshot!(complaints(
        "[gaps]\nleest = \"1/32\"\nleast = \"1/2\"\n[pulls]\nheight = 3\nheight_share = 0.5\n[sled]\nfence = 0\n",
        ""
    ));
}
