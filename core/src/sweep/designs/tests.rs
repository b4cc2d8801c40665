use super::*;

#[test]
fn outputs_that_lack_for_one_reason_share_its_sentence() {
    let reasons = |rows: &[(&str, &str)]| {
        let rows: Vec<_> = rows.iter().map(|(output, why)| ((*output).to_owned(), (*why).to_owned())).collect();
        in_one(&rows)
    };
    let (stop, chain) = ("the rear end rests on its stop", "`rear.chain` is missing");
    assert_eq!(reasons(&[]), None);
    assert_eq!(
        reasons(&[("trail", stop), ("anti_squat", chain), ("rake", stop)]).unwrap(),
        format!("trail, rake: {stop}; anti_squat: {chain}")
    );
}
