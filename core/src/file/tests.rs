use super::*;
use crate::demo::PATROL;

#[test]
fn the_demo_is_sound() {
    assert_eq!(check(PATROL), Vec::new());
}

#[test]
fn the_demo_reads_back_equal() {
    let bike = Bike::from_toml(PATROL).unwrap();
    assert_eq!(Bike::from_toml(&bike.to_toml()).unwrap(), bike);
    assert_eq!(Bike::from_json(&bike.to_json()).unwrap(), bike);
}

#[test]
fn what_is_written_is_laid_out_for_a_reader() {
    let text = Bike::from_toml(PATROL).unwrap().to_toml();
    for passage in [
        "format = 1\n\n[bike]\nname = \"Ridge patrol 300\"\n",
        "\nrider = { front = \"30 kg\", rear = \"66 kg\", height = \"1200 mm\", pitch_inertia = \"12 kg m2\" }\n",
        "\n[frame_points]\nseat = [\"-80 mm\", \"460 mm\"]\n",
        "\n[[front.fork.leg]]\nspring = { rate = \"4.4 N/mm\", preload = \"6 mm\"",
        "\n[rear.linkage.bodies]\nframe = [\"swingarm_pivot\", \"link_frame\", \"shock_frame\"]\n",
        "\nrider_sag = { value = \"102 mm\", tolerance = \"4 mm\", direction = \"vertical\" }\n",
    ] {
        assert!(text.contains(passage), "{passage} in\n{text}");
    }
    assert!(text.lines().all(|line| line.len() <= 120), "{text}");
}
