import { fixed, significant } from '../../../../job/format/number.ts';
import { ohms, volts } from '../../../../job/format/quantity.ts';
import type { DividerDesign } from '../../../../plan/divider/design.ts';
import type { HeadsetDesign } from '../../../../plan/divider/headset.ts';

function rows(design: DividerDesign | HeadsetDesign): [string, string][] {
  const { divider } = design;
  const series = divider.legs === 2 ? 'Series resistors, one in each wire' : 'Series resistor';
  const list: [string, string][] = [
    [series, `${ohms(divider.seriesOhms)}, ${significant(design.seriesRatedWatts, 2)} W`],
    ['Shunt resistor', `${ohms(divider.shuntOhms)}, ${significant(design.shuntRatedWatts, 2)} W`],
    [
      'Ratio',
      `1 : ${significant(1 / design.ratio, 3)} (${fixed(design.ratioDb, 1)} dB ± ${fixed(2 * design.uncertaintyDb, 2)})`,
    ],
    ['Room left at the highest volts', `${fixed(design.headroomDb, 1)} dB`],
    ['What the input’s load changes', `${fixed(design.loadingErrorDb, 2)} dB`],
    ['A full-scale sine is then about', volts(design.voltsPerFs)],
  ];
  if ('recognitionOhms' in design) {
    const microfarads = significant(design.capacitorFarads * 1e6, 2);
    list.push(
      ['Capacitor, plus towards the phone', `${microfarads} µF, ${design.capacitorRatedVolts} V`],
      ['Recognition resistor', ohms(design.recognitionOhms)],
      ['Direct voltage at the contact', volts(design.contactVolts)],
    );
  }
  return list;
}

export function DividerFacts({ design }: { design: DividerDesign | HeadsetDesign }) {
  return (
    <>
      <table>
        <tbody>
          {rows(design).map(([what, value]) => (
            <tr key={what}>
              <th scope="row">{what}</th>
              <td className="num">{value}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="small soft">
        The input’s full scale and impedance are common practice, not measured: calibrate with a multimeter
        once it is built.
      </p>
      <ul className="cautions">
        {design.cautions.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
    </>
  );
}
